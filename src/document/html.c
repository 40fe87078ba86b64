#include "document/html.h"

#include <ctype.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>

/* The longest name that stays beside its "=". */
enum { NAME_LETTERS = 5 };

void hf_html_add(hf_text *out, const char *text) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c == '&')
            hf_text_add(out, "&amp;");
        else if (c == '<')
            hf_text_add(out, "&lt;");
        else if (c == '>')
            hf_text_add(out, "&gt;");
        else if (c == '"')
            hf_text_add(out, "&quot;");
        else if (c == '\'')
            hf_text_add(out, "&#39;");
        else if (c < 0x20 || c == 0x7F)
            hf_text_add(out, " ");
        else
            hf_text_add_bytes(out, text, 1);
    }
}

/* Bytes of the word that ends before `at`, not before `from`. */
static size_t word_before(const char *from, const char *at) {
    size_t length = 0;
    while (at - length > from && at[-1 - (ptrdiff_t)length] != ' ') length++;
    return length;
}

static bool all_letters(const char *word, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (!isalpha((unsigned char)word[i])) return false;
    return length > 0;
}

static bool is_word(const char *word, size_t length, const char *wanted) {
    return length == strlen(wanted) && memcmp(word, wanted, length) == 0;
}

/* A sign of a formula that stands alone. */
static bool is_sign(const char *word, size_t length) {
    static const char *const signs[] = {"=", "+", "−", "×", "÷"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (is_word(word, length, signs[i])) return true;
    return false;
}

/* What stands for a number in a formula: "m", "k", "√(s²", "h²/8)". */
static bool is_symbol(const char *word, size_t length) {
    static const char root[] = "√(";
    bool under = length > sizeof root - 1 && memcmp(word, root, sizeof root - 1) == 0;
    const char *at = under ? word + sizeof root - 1 : word;
    size_t left = length - (size_t)(at - word);
    return left && isalpha((unsigned char)*at) && (left == 1 || !isalpha((unsigned char)at[1]));
}

/* Whether no line ends at this blank: "12 N", "5 %", "± 5.4", "seed 1", "1 in 337", "p = 0.25", and within a formula. */
static bool is_kept_blank(const char *from, const char *at, const char *unit) {
    const char *next = at + 1;
    size_t before = word_before(from, at), after = strcspn(next, " "), length = strlen(unit);
    const char *last = at - before;
    bool digit = isdigit((unsigned char)*next), number = before && isdigit((unsigned char)at[-1]);
    if (!before || !after) return false;
    if (number && (*next == '%' || (strncmp(next, unit, length) == 0 && strchr(" .,;:)", next[length]))))
        return true;
    if ((digit && is_word(last, before, "±")) || (number && is_word(next, after, "±"))) return true;
    if (digit && (is_word(last, before, "seed") || is_word(last, before, "no."))) return true;
    if ((number && strncmp(next, "in ", 3) == 0 && isdigit((unsigned char)next[3])) ||
        (digit && is_word(last, before, "in") && last - from > 1 && isdigit((unsigned char)last[-2])))
        return true;
    bool name = *last == '(' ? all_letters(last + 1, before - 1) : all_letters(last, before);
    if (is_word(next, after, "=")) return name && before <= NAME_LETTERS;
    if (is_word(last, before, "=") && last - from > 1) {
        size_t named = word_before(from, last - 1);
        const char *start = last - 1 - named;
        if (digit && named && named <= 2 && all_letters(start + (*start == '('), named - (*start == '(')))
            return true;
    }
    return (is_sign(last, before) && is_symbol(next, after)) ||
           (is_sign(next, after) && is_symbol(last, before));
}

void hf_html_words(hf_text *out, const char *text, const char *unit) {
    const char *from = text;
    hf_text piece = {0};
    for (const char *at = strchr(text, ' '); at; at = strchr(at + 1, ' ')) {
        if (!is_kept_blank(text, at, unit)) continue;
        hf_text_add_bytes(&piece, from, (size_t)(at - from));
        hf_text_add(&piece, "\xC2\xA0");
        from = at + 1;
    }
    hf_text_add(&piece, from);
    hf_html_add(out, piece.bytes ? piece.bytes : "");
    if (piece.failed) out->failed = true;
    hf_text_free(&piece);
}

/* U+0590, the first letter that runs from right to left, starts with the byte D6. */
const char *hf_html_direction(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text >= 0xD6) return " dir=\"auto\"";
    return "";
}

void hf_html_css_string(hf_text *out, const char *text) {
    hf_text_add(out, "\"");
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c >= 0x80 || isalnum(c) || (c != '\0' && strchr(" ,.-", c)))
            hf_text_add_bytes(out, text, 1);
        else
            hf_text_addf(out, "\\%X ", c);
    }
    hf_text_add(out, "\"");
}
