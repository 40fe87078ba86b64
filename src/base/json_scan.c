#include "base/json_scan.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"

/* cJSON copies a number to a buffer of 64 bytes and loses what is beyond; no double needs more than 17 digits. */
enum { LONGEST_NUMBER = 63 };

typedef struct scanner {
    hf_arena *arena;
    const char *file, *text;
    size_t length, at, line, column;
    hf_json *within; /* what is being read, for the path of a mistake */
    hf_error *error;
} scanner;

static void advance(scanner *s, size_t bytes) {
    for (size_t i = 0; i < bytes; i++, s->at++) {
        unsigned char c = (unsigned char)s->text[s->at];
        if (c == '\n') {
            s->line++;
            s->column = 1;
        } else if ((c & 0xC0) != 0x80) {
            s->column++;
        }
    }
}

static int peek(const scanner *s) {
    return s->at < s->length ? (unsigned char)s->text[s->at] : -1;
}

static void skip_space(scanner *s) {
    for (int c = peek(s); c == ' ' || c == '\t' || c == '\n' || c == '\r'; c = peek(s)) advance(s, 1);
}

/* What stands here, in words. */
static const char *found(const scanner *s, char out[32]) {
    int c = peek(s);
    if (c < 0) return "the end of the file";
    if (c > 0x20 && c < 0x7F)
        (void)snprintf(out, 32, "'%c'", c);
    else
        (void)snprintf(out, 32, "byte 0x%02X", (unsigned)c);
    return out;
}

static hf_status mistake(scanner *s, const char *message) {
    hf_status status = hf_error_set(s->error, HF_BAD_DATA, "%s", message);
    if (s->error) {
        s->error->where.file = s->file;
        s->error->where.line = s->line;
        s->error->where.column = s->column;
        if (s->within) hf_json_path(s->within, s->error->where.path, HF_PATH_SIZE);
    }
    return status;
}

static hf_status expected(scanner *s, const char *what) {
    char here[32], message[HF_MESSAGE_SIZE];
    (void)snprintf(message, sizeof message, "found %s, expected %s", found(s, here), what);
    return mistake(s, message);
}

/* Four hexadecimal digits at offset, or −1. */
static long hex4(const scanner *s, size_t offset) {
    long value = 0;
    for (size_t i = 0; i < 4; i++) {
        int c = s->at + offset + i < s->length ? (unsigned char)s->text[s->at + offset + i] : 0;
        int digit = c >= '0' && c <= '9'   ? c - '0'
                    : c >= 'a' && c <= 'f' ? c - 'a' + 10
                    : c >= 'A' && c <= 'F' ? c - 'A' + 10
                                           : -1;
        if (digit < 0) return -1;
        value = value * 16 + digit;
    }
    return value;
}

/* At a backslash. */
static hf_status scan_escape(scanner *s) {
    int c = s->at + 1 < s->length ? s->text[s->at + 1] : 0;
    if (c && strchr("\"\\/bfnrt", c)) {
        advance(s, 2);
        return HF_OK;
    }
    if (c != 'u')
        return mistake(
            s,
            "found an unknown escape in a text, expected one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX");
    long unit = hex4(s, 2);
    if (unit < 0) return mistake(s, "found \\u without four hexadecimal digits");
    if (unit == 0) return mistake(s, "found \\u0000, which no text may hold");
    if (unit >= 0xDC00 && unit <= 0xDFFF)
        return mistake(s, "found the second half of a surrogate pair without the first");
    if (unit >= 0xD800 && unit <= 0xDBFF) {
        bool pair = s->at + 7 < s->length && s->text[s->at + 6] == '\\' && s->text[s->at + 7] == 'u';
        long second = pair ? hex4(s, 8) : -1;
        if (second < 0xDC00 || second > 0xDFFF)
            return mistake(s, "found the first half of a surrogate pair without the second");
        advance(s, 6);
    }
    advance(s, 6);
    return HF_OK;
}

static hf_status scan_text(scanner *s) {
    advance(s, 1);
    for (;;) {
        int c = peek(s);
        if (c < 0) return expected(s, "the closing quote of a text");
        if (c == '"') break;
        if (c < 0x20)
            return mistake(s, "found a control character in a text, expected it written as an escape");
        if (c == '\\') {
            hf_status status = scan_escape(s);
            if (status != HF_OK) return status;
            continue;
        }
        size_t bytes = hf_text_character(s->text + s->at, s->length - s->at);
        if (!bytes) return mistake(s, "found a byte that is no UTF-8, expected the file in UTF-8");
        advance(s, bytes);
    }
    advance(s, 1);
    return HF_OK;
}

static size_t digits_at(const scanner *s, size_t at) {
    size_t start = at;
    while (at < s->length && s->text[at] >= '0' && s->text[at] <= '9') at++;
    return at - start;
}

/* -? (0 | [1-9][0-9]*) (. [0-9]+)? ([eE] [+-]? [0-9]+)? */
static hf_status scan_number(scanner *s, hf_json *node) {
    size_t at = s->at + (peek(s) == '-'), whole = digits_at(s, at);
    if (!whole) return mistake(s, "found a number without digits");
    if (whole > 1 && s->text[at] == '0') return mistake(s, "found a number with a leading zero");
    at += whole;
    if (at < s->length && s->text[at] == '.') {
        size_t digits = digits_at(s, at + 1);
        if (!digits) return mistake(s, "found a number without digits after its point");
        at += 1 + digits;
    }
    if (at < s->length && (s->text[at] == 'e' || s->text[at] == 'E')) {
        at++;
        if (at < s->length && (s->text[at] == '+' || s->text[at] == '-')) at++;
        size_t digits = digits_at(s, at);
        if (!digits) return mistake(s, "found a number without digits in its exponent");
        at += digits;
    }
    if (at - s->at > LONGEST_NUMBER) return mistake(s, "found a number of more than 63 characters");
    if (!hf_number_read(s->text + s->at, at - s->at, &node->number))
        return mistake(s, "found a number too large to hold");
    advance(s, at - s->at);
    return HF_OK;
}

static hf_status scan_word(scanner *s, const char *word) {
    size_t length = strlen(word);
    if (s->length - s->at < length || memcmp(s->text + s->at, word, length) != 0)
        return expected(s, "a value (a number, a text in double quotes, true, false, null, { or [)");
    advance(s, length);
    return HF_OK;
}

static hf_status scan_value(scanner *s, hf_json *node, int depth);

/* The key and colon of a member. The key is noted as it stands in the file, so that the path of a mistake can name it;
 * hf_json_parse resolves its escapes. */
static hf_status scan_key(scanner *s, hf_json *child) {
    if (peek(s) != '"') return expected(s, "a key in double quotes");
    child->key_line = s->line;
    child->key_column = s->column;
    child->key_start = s->at;
    hf_status status = scan_text(s);
    if (status != HF_OK) return status;
    child->key = hf_arena_text(s->arena, s->text + child->key_start + 1, s->at - child->key_start - 2);
    if (!child->key) return hf_error_set(s->error, HF_MEMORY, "out of memory");
    skip_space(s);
    if (peek(s) != ':') return expected(s, "':' after the key");
    advance(s, 1);
    skip_space(s);
    return HF_OK;
}

static hf_status scan_children(scanner *s, hf_json *node, int depth) {
    bool object = node->kind == HF_JSON_OBJECT;
    char closing = object ? '}' : ']';
    hf_json *last = NULL;
    advance(s, 1);
    skip_space(s);
    if (peek(s) == closing) {
        advance(s, 1);
        return HF_OK;
    }
    for (;;) {
        hf_json *child = HF_ARENA_NEW(s->arena, hf_json);
        if (!child) return hf_error_set(s->error, HF_MEMORY, "out of memory");
        child->parent = node;
        child->index = node->count;
        hf_status status = object ? scan_key(s, child) : HF_OK;
        s->within = child;
        if (status == HF_OK) status = scan_value(s, child, depth + 1);
        if (status != HF_OK) return status;
        s->within = node;
        if (last)
            last->next = child;
        else
            node->first = child;
        last = child;
        node->count++;
        skip_space(s);
        int c = peek(s);
        if (c == closing) break;
        if (c != ',') return expected(s, object ? "',' or '}'" : "',' or ']'");
        advance(s, 1);
        skip_space(s);
    }
    advance(s, 1);
    return HF_OK;
}

static hf_status scan_container(scanner *s, hf_json *node, hf_json_kind kind, int depth) {
    if (depth >= HF_JSON_DEPTH) return mistake(s, "found more than 64 levels of brackets");
    node->kind = kind;
    return scan_children(s, node, depth);
}

static hf_status scan_scalar(scanner *s, hf_json *node, int c) {
    if (c == '"') {
        node->kind = HF_JSON_TEXT;
        return scan_text(s);
    }
    if (c == '-' || (c >= '0' && c <= '9')) {
        node->kind = HF_JSON_NUMBER;
        return scan_number(s, node);
    }
    node->kind = c == 't' ? HF_JSON_TRUE : c == 'f' ? HF_JSON_FALSE : HF_JSON_NULL;
    return scan_word(s, c == 't' ? "true" : c == 'f' ? "false" : "null");
}

static hf_status scan_value(scanner *s, hf_json *node, int depth) {
    int c = peek(s);
    node->line = s->line;
    node->column = s->column;
    node->start = s->at;
    hf_status status = c == '{'   ? scan_container(s, node, HF_JSON_OBJECT, depth)
                       : c == '[' ? scan_container(s, node, HF_JSON_ARRAY, depth)
                                  : scan_scalar(s, node, c);
    node->end = s->at;
    return status;
}

hf_status hf_json_scan(hf_arena *arena, const char *file, const char *text, size_t length, hf_json **out,
                       hf_error *error) {
    scanner s = {arena, file, text, length, 0, 1, 1, NULL, error};
    hf_json *root = HF_ARENA_NEW(arena, hf_json);
    if (!root) return hf_error_set(error, HF_MEMORY, "out of memory");
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
        return mistake(&s, "found a byte order mark, expected plain UTF-8");
    skip_space(&s);
    hf_status status = scan_value(&s, root, 0);
    if (status != HF_OK) return status;
    skip_space(&s);
    if (s.at < length) return expected(&s, "the end of the file");
    *out = root;
    return HF_OK;
}
