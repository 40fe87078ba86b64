/* Values as Python literals. A name must not end its literal, nor look like something else on the screen. */
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "holdfast/base/json.h"
#include "holdfast/base/number.h"
#include "handover/notebook_parts.h"

enum {
    FIGURES = 9,
    INDENT = 4,
    LINE = 70,       /* columns, so that a printed page holds it, and a comma after */
    HALF = 36,       /* a text behind a longer key begins a new line */
    PIECE_LEAST = 20 /* of a text that is broken, wherever it begins */
};

/* Code points that do not show, turn the direction of writing, or are no characters at all. */
static const struct {
    unsigned long first, last;
} unseen[] = {
    {0x7F, 0xA0},       {0xAD, 0xAD},        {0x34F, 0x34F},   {0x61C, 0x61C},   {0x115F, 0x1160},
    {0x1680, 0x1680},   {0x17B4, 0x17B5},    {0x180B, 0x180F}, {0x2000, 0x200F}, {0x2028, 0x202F},
    {0x205F, 0x206F},   {0x2800, 0x2800},    {0x3000, 0x3000}, {0x3164, 0x3164}, {0xD800, 0xF8FF},
    {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},    {0xFFA0, 0xFFA0}, {0xFFF0, 0xFFFF}, {0x1D159, 0x1D159},
    {0x1D173, 0x1D17A}, {0xE0000, 0x10FFFF},
};

static bool is_unseen(unsigned long code) {
    for (size_t i = 0; i < sizeof unseen / sizeof *unseen; i++)
        if (code >= unseen[i].first && code <= unseen[i].last) return true;
    return (code & 0xFFFEU) == 0xFFFEU; /* the last two of every plane */
}

static unsigned long code_point(const char *bytes, size_t length) {
    static const unsigned char masks[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    unsigned long code = (unsigned char)bytes[0] & masks[length];
    for (size_t i = 1; i < length; i++) code = code << 6 | ((unsigned char)bytes[i] & 0x3FU);
    return code;
}

/* Appends one character; the columns it takes. */
static size_t add_character(hf_text *out, const char *bytes, size_t length) {
    unsigned long code = length ? code_point(bytes, length) : 0xFFFD;
    size_t before = out->length;
    if (code == '"' || code == '\\')
        hf_text_addf(out, "\\%c", (int)code);
    else if (code < 0x20)
        hf_text_addf(out, "\\x%02lx", code);
    else if (code > 0xFFFF && is_unseen(code))
        hf_text_addf(out, "\\U%08lx", code);
    else if (!length || is_unseen(code))
        hf_text_addf(out, "\\u%04lx", code);
    else {
        hf_text_add_bytes(out, bytes, length);
        return 1;
    }
    return out->length - before;
}

/* Appends what begins `text` as one literal, in so many columns at least: the last word is not cut. The bytes that were taken. */
static size_t add_piece(hf_text *out, const char *text, size_t columns) {
    size_t left = strlen(text), taken = 0, used = 0;
    hf_text_add(out, "\"");
    while (left > taken && used < columns) {
        size_t length = hf_text_character(text + taken, left - taken), step = length ? length : 1;
        used += add_character(out, text + taken, length);
        taken += step;
        if (used + 8 > columns && columns != SIZE_MAX && text[taken - 1] == ' ') break;
    }
    hf_text_add(out, "\"");
    return taken;
}

void hf_python_text(hf_text *out, const char *text) {
    (void)add_piece(out, text, SIZE_MAX);
}

static size_t column_of(const hf_text *out) {
    size_t at = out->length, columns = 0;
    while (at > 0 && out->bytes[at - 1] != '\n') columns += ((unsigned char)out->bytes[--at] & 0xC0U) != 0x80;
    return columns;
}

static void add_line(hf_text *out, size_t column) {
    hf_text_add(out, "\n");
    while (column-- > 0) hf_text_add(out, " ");
}

void hf_python_broken_text(hf_text *out, const char *text) {
    size_t begin = column_of(out), room = LINE > begin + PIECE_LEAST ? LINE - begin : PIECE_LEAST;
    hf_text whole = {0};
    hf_python_text(&whole, text);
    if (column_of(&whole) <= room) {
        hf_text_add(out, whole.bytes ? whole.bytes : "");
    } else {
        hf_text_add(out, "(");
        while (*text) {
            text += add_piece(out, text, room - 12);
            if (*text) add_line(out, begin + 1);
        }
        hf_text_add(out, ")");
    }
    out->failed = out->failed || whole.failed;
    hf_text_free(&whole);
}

void hf_python_number(hf_text *out, double value) {
    char figures[HF_NUMBER_SIZE], shortest[HF_NUMBER_SIZE];
    double rounded;
    hf_number_figures(value, FIGURES, figures);
    if (isfinite(value) && hf_number_read(figures, strlen(figures), &rounded))
        hf_text_add(out, hf_number_shortest(rounded, shortest));
    else
        hf_text_add(out, "None");
}

static bool ends_with(const char *text, const char *end) {
    size_t length = strlen(text), tail = strlen(end);
    return length >= tail && strcmp(text + length - tail, end) == 0;
}

static bool is_dropped(const hf_python_style *style, const char *key) {
    if (!key) return false;
    if (!style->source && ends_with(key, "_reason")) return true;
    for (const char *const *name = style->dropped; name && *name; name++)
        if (strcmp(*name, key) == 0) return true;
    return false;
}

static bool is_nest(const hf_json *value) {
    return value->kind == HF_JSON_ARRAY || value->kind == HF_JSON_OBJECT;
}

static bool holds_nests(const hf_json *value, const hf_python_style *style) {
    for (const hf_json *item = value->first; item; item = item->next)
        if (!is_dropped(style, item->key) && is_nest(item)) return true;
    return false;
}

static void add_flat_item(hf_text *out, const hf_json *item, const hf_python_style *style) {
    if (item->key) hf_python_text(out, item->key);
    if (item->key) hf_text_add(out, ": ");
    if (item->kind == HF_JSON_TEXT)
        hf_python_text(out, item->text);
    else
        hf_python_value(out, item, style, 0);
}

/* A key and its value over as many lines as they need; a text behind a long key begins a new line at the column `deeper`. */
static void add_broken_item(hf_text *out, const hf_json *item, const hf_python_style *style, int indent,
                            size_t deeper) {
    if (item->key) {
        hf_python_broken_text(out, item->key);
        hf_text_add(out, ":");
        if (column_of(out) > HALF && item->kind == HF_JSON_TEXT)
            add_line(out, deeper);
        else
            hf_text_add(out, " ");
    }
    hf_python_value(out, item, style, indent);
}

/* Nothing is nested in it: as many items on a line as fit. */
static void add_filled(hf_text *out, const hf_json *value, const hf_python_style *style, int indent) {
    bool first = true, object = value->kind == HF_JSON_OBJECT;
    size_t begin = column_of(out) + 1;
    hf_text_add(out, object ? "{" : "[");
    for (const hf_json *item = value->first; item; item = item->next) {
        if (is_dropped(style, item->key)) continue;
        hf_text flat = {0};
        add_flat_item(&flat, item, style);
        size_t columns = column_of(&flat);
        if (!first) hf_text_add(out, ",");
        if (!first && column_of(out) + 1 + columns <= LINE)
            hf_text_add(out, " ");
        else if (!first)
            add_line(out, begin);
        first = false;
        if (column_of(out) + columns <= LINE)
            hf_text_add(out, flat.bytes ? flat.bytes : "");
        else
            add_broken_item(out, item, style, indent, begin + INDENT);
        out->failed = out->failed || flat.failed;
        hf_text_free(&flat);
    }
    hf_text_add(out, object ? "}" : "]");
}

/* An item a line. */
static void add_nest(hf_text *out, const hf_json *value, const hf_python_style *style, int indent) {
    bool first = true, object = value->kind == HF_JSON_OBJECT;
    size_t column = (size_t)(indent + 1) * INDENT;
    hf_text_add(out, object ? "{" : "[");
    for (const hf_json *item = value->first; item; item = item->next) {
        if (is_dropped(style, item->key)) continue;
        if (!first) hf_text_add(out, ",");
        add_line(out, column);
        first = false;
        add_broken_item(out, item, style, indent + 1, column + INDENT);
    }
    if (!first) add_line(out, column - INDENT);
    hf_text_add(out, object ? "}" : "]");
}

void hf_python_value(hf_text *out, const hf_json *value, const hf_python_style *style, int indent) {
    switch (value->kind) {
    case HF_JSON_NULL:
        hf_text_add(out, "None");
        break;
    case HF_JSON_FALSE:
        hf_text_add(out, "False");
        break;
    case HF_JSON_TRUE:
        hf_text_add(out, "True");
        break;
    case HF_JSON_NUMBER:
        if (style->source) /* a JSON number is a Python number */
            hf_text_add_bytes(out, style->source + value->start, value->end - value->start);
        else
            hf_python_number(out, value->number);
        break;
    case HF_JSON_TEXT:
        hf_python_broken_text(out, value->text);
        break;
    case HF_JSON_ARRAY:
    case HF_JSON_OBJECT:
        if (holds_nests(value, style))
            add_nest(out, value, style, indent);
        else
            add_filled(out, value, style, indent);
        break;
    }
}
