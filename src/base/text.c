#include "holdfast/base/text.h"

#include <stdarg.h>
#include <stdint.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "platform/c_locale.h"

void hf_text_free(hf_text *text) {
    if (!text) return;
    hf_memory_free(text->bytes);
    memset(text, 0, sizeof *text);
}

static bool make_room(hf_text *text, size_t more) {
    if (text->failed) return false;
    if (more >= SIZE_MAX / 2 - text->length) {
        text->failed = true;
        return false;
    }
    size_t needed = text->length + more + 1, capacity = text->capacity ? text->capacity : 256;
    if (needed <= text->capacity) return true;
    while (capacity < needed) capacity *= 2;
    char *bytes = hf_memory_resize(text->bytes, capacity);
    if (!bytes) {
        text->failed = true;
        return false;
    }
    text->bytes = bytes;
    text->capacity = capacity;
    return true;
}

void hf_text_add_bytes(hf_text *text, const char *bytes, size_t length) {
    if (!make_room(text, length)) return;
    if (length) memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void hf_text_add(hf_text *text, const char *bytes) {
    hf_text_add_bytes(text, bytes, strlen(bytes));
}

void hf_text_add_lines(hf_text *text, const char *const *lines) {
    for (; *lines; lines++) hf_text_add(text, *lines);
}

void hf_text_addf(hf_text *text, const char *format, ...) {
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = hf_c_locale_format(NULL, 0, format, arguments);
    if (length < 0)
        text->failed = true;
    else if (make_room(text, (size_t)length)) {
        (void)hf_c_locale_format(text->bytes + text->length, (size_t)length + 1, format, again);
        text->length += (size_t)length;
    }
    va_end(again);
    va_end(arguments);
}

/* One character: its code point and length; a byte that is no UTF-8 stands for itself. */
static size_t decode(const char *text, uint32_t *point) {
    const unsigned char *s = (const unsigned char *)text;
    size_t length = s[0] >= 0xF0 && s[0] < 0xF8 ? 4 : s[0] >= 0xE0 ? 3 : s[0] >= 0xC0 ? 2 : 1;
    static const uint32_t mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    *point = s[0];
    if (s[0] < 0xC0 || s[0] >= 0xF8) return 1;
    uint32_t value = s[0] & mask[length];
    for (size_t i = 1; i < length; i++) {
        if ((s[i] & 0xC0) != 0x80) return 1;
        value = value << 6 | (s[i] & 0x3Fu);
    }
    *point = value;
    return length;
}

typedef struct range {
    uint32_t first, last;
} range;

static bool in_ranges(uint32_t point, const range *ranges, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (point >= ranges[i].first && point <= ranges[i].last) return true;
    return false;
}

/* Blocks of combining marks and of wide characters (Unicode 15, East Asian Width W and F), in whole blocks. */
static const range no_width[] = {{0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x0610, 0x061A},
                                 {0x064B, 0x065F}, {0x0900, 0x0902}, {0x093C, 0x093C}, {0x0941, 0x0948},
                                 {0x0E31, 0x0E31}, {0x0E34, 0x0E3A}, {0x0E47, 0x0E4E}, {0x1AB0, 0x1AFF},
                                 {0x1DC0, 0x1DFF}, {0x200B, 0x200F}, {0x202A, 0x202E}, {0x2060, 0x2064},
                                 {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF}};
static const range wide[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},   {0x3041, 0x33FF},  {0x3400, 0x4DBF},
                             {0x4E00, 0x9FFF},   {0xA000, 0xA4CF},   {0xAC00, 0xD7A3},  {0xF900, 0xFAFF},
                             {0xFE30, 0xFE4F},   {0xFF00, 0xFF60},   {0xFFE0, 0xFFE6},  {0x1F300, 0x1F64F},
                             {0x1F680, 0x1F6FF}, {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD}};

static size_t columns_of(uint32_t point) {
    if (point < 0x20 || in_ranges(point, no_width, sizeof no_width / sizeof *no_width)) return 0;
    return in_ranges(point, wide, sizeof wide / sizeof *wide) ? 2 : 1;
}

size_t hf_text_columns(const char *text) {
    size_t columns = 0;
    uint32_t point;
    while (*text) {
        text += decode(text, &point);
        columns += point < 0x300 ? (point >= 0x20) : columns_of(point);
    }
    return columns;
}

size_t hf_text_cut(const char *text, size_t columns) {
    size_t used = 0, at = 0;
    uint32_t point;
    while (text[at]) {
        size_t length = decode(text + at, &point), width = columns_of(point);
        if (used + width > columns) break;
        used += width;
        at += length;
    }
    return at;
}

static bool continues(const unsigned char *s, size_t length, size_t from, size_t to) {
    for (size_t i = from; i < to; i++)
        if (i >= length || (s[i] & 0xC0) != 0x80) return false;
    return true;
}

size_t hf_text_character(const char *bytes, size_t length) {
    const unsigned char *s = (const unsigned char *)bytes;
    if (length == 0) return 0;
    if (s[0] < 0x80) return 1;
    if (s[0] >= 0xC2 && s[0] <= 0xDF) return continues(s, length, 1, 2) ? 2 : 0;
    if (s[0] >= 0xE0 && s[0] <= 0xEF) {
        if (!continues(s, length, 1, 3)) return 0;
        bool overlong = s[0] == 0xE0 && s[1] < 0xA0, surrogate = s[0] == 0xED && s[1] > 0x9F;
        return overlong || surrogate ? 0 : 3;
    }
    if (s[0] >= 0xF0 && s[0] <= 0xF4) {
        if (!continues(s, length, 1, 4)) return 0;
        bool overlong = s[0] == 0xF0 && s[1] < 0x90, beyond = s[0] == 0xF4 && s[1] > 0x8F;
        return overlong || beyond ? 0 : 4;
    }
    return 0;
}

size_t hf_text_control(const char *text) {
    const unsigned char *s = (const unsigned char *)text;
    if ((s[0] && s[0] < 0x20) || s[0] == 0x7F) return 1;
    if (s[0] == 0xC2 && s[1] >= 0x80 && s[1] < 0xA0) return 2;
    if (s[0] != 0xE2) return 0;
    bool line = s[1] == 0x80 && (s[2] == 0xA8 || s[2] == 0xA9),
         turning = s[1] == 0x80 && s[2] >= 0xAA && s[2] <= 0xAE;
    return line || turning || (s[1] == 0x81 && s[2] >= 0xA6 && s[2] <= 0xA9) ? 3 : 0;
}

/* Bytes at the start of bytes[0..length) that a terminal may be given as they are, 0 for what must be spelled out. */
static size_t harmless(const char *bytes, size_t length, bool colors) {
    size_t character = hf_text_character(bytes, length);
    char one[5] = {0};
    if (bytes[0] == '\n' || bytes[0] == '\t') return 1;
    if (length > 1 && bytes[0] == '\r' && bytes[1] == '\n') return 2;
    if (colors && length > 3 && bytes[0] == '\033' && bytes[1] == '[') {
        size_t end = 2;
        while (end < length && bytes[end] >= '0' && bytes[end] <= '9') end++;
        if (end < length && bytes[end] == 'm') return end + 1;
    }
    memcpy(one, bytes, character);
    return one[0] && !hf_text_control(one) ? character : 0;
}

void hf_text_add_visible(hf_text *text, const char *bytes, size_t length, bool colors) {
    for (size_t at = 0; at < length;) {
        size_t plain = 0, part;
        uint32_t point;
        while (at + plain < length && (part = harmless(bytes + at + plain, length - at - plain, colors)) != 0)
            plain += part;
        hf_text_add_bytes(text, bytes + at, plain);
        at += plain;
        if (at == length) break;
        size_t character = hf_text_character(bytes + at, length - at);
        if (character) (void)decode(bytes + at, &point);
        if (character)
            hf_text_addf(text, "\\u%04lx", (unsigned long)point);
        else
            hf_text_addf(text, "\\x%02x", (unsigned)(unsigned char)bytes[at]);
        at += character ? character : 1;
    }
}

void hf_text_wrap(hf_text *text, const char *words, size_t width, const char *first, const char *rest) {
    size_t used = hf_text_columns(first);
    bool fresh = true;
    hf_text_add(text, first);
    while (*words) {
        while (*words == ' ' || *words == '\n') words++;
        size_t length = strcspn(words, " \n");
        if (!length) break;
        hf_text word = {0};
        hf_text_add_bytes(&word, words, length);
        size_t columns = word.bytes ? hf_text_columns(word.bytes) : 0;
        if (!fresh && used + 1 + columns > width) {
            hf_text_addf(text, "\n%s", rest);
            used = hf_text_columns(rest);
            fresh = true;
        }
        if (!fresh) hf_text_add(text, " ");
        used += columns + !fresh;
        fresh = false;
        hf_text_add_bytes(text, words, length);
        hf_text_free(&word);
        words += length;
    }
    hf_text_add(text, "\n");
}

enum { LONGEST_WORD = 63 };

static char small_letter(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Edit distance without regard to case, neighbouring letters swapped counting once (Damerau, adjacent form). */
static size_t distance(const char *a, const char *b) {
    size_t n = strlen(a), m = strlen(b), row[3][LONGEST_WORD + 2];
    if (n > LONGEST_WORD || m > LONGEST_WORD) return SIZE_MAX;
    for (size_t j = 0; j <= m; j++) row[0][j] = j;
    for (size_t i = 1; i <= n; i++) {
        size_t *now = row[i % 3], *before = row[(i - 1) % 3], *earlier = row[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= m; j++) {
            size_t best = before[j - 1] + (small_letter(a[i - 1]) != small_letter(b[j - 1]));
            if (before[j] + 1 < best) best = before[j] + 1;
            if (now[j - 1] + 1 < best) best = now[j - 1] + 1;
            if (i > 1 && j > 1 && small_letter(a[i - 1]) == small_letter(b[j - 2]) &&
                small_letter(a[i - 2]) == small_letter(b[j - 1]) && earlier[j - 2] + 1 < best)
                best = earlier[j - 2] + 1;
            now[j] = best;
        }
    }
    return row[n % 3][m];
}

const char *hf_text_nearest(const char *word, const char *const *candidates, size_t count) {
    const char *nearest = NULL;
    size_t best = 1 + strlen(word) / 3; /* farther than a third of the word is no typing mistake */
    for (size_t i = 0; i < count; i++) {
        size_t d = distance(word, candidates[i]);
        if (d > best || (nearest && d == best)) continue;
        if (d && d >= strlen(word) && d >= strlen(candidates[i])) continue; /* nothing shared */
        best = d;
        nearest = candidates[i];
    }
    return nearest;
}
