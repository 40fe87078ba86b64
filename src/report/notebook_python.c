/* Values as Python literals. A name must not end its literal, nor look like something else on the screen. */
#include <math.h>
#include <string.h>
#include "holdfast/base/json.h"
#include "holdfast/base/number.h"
#include "report/notebook_parts.h"

enum { FIGURES = 9, INDENT = 4, LINE = 170, WORDS = 6 };

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

static void add_character(hf_text *out, const char *bytes, size_t length) {
    unsigned long code = length ? code_point(bytes, length) : 0xFFFD;
    if (code == '"' || code == '\\')
        hf_text_addf(out, "\\%c", (int)code);
    else if (code < 0x20)
        hf_text_addf(out, "\\x%02lx", code);
    else if (code > 0xFFFF && is_unseen(code))
        hf_text_addf(out, "\\U%08lx", code);
    else if (!length || is_unseen(code))
        hf_text_addf(out, "\\u%04lx", code);
    else
        hf_text_add_bytes(out, bytes, length);
}

void hf_python_text(hf_text *out, const char *text) {
    size_t left = strlen(text);
    hf_text_add(out, "\"");
    while (left > 0) {
        size_t length = hf_text_character(text, left), step = length ? length : 1;
        add_character(out, text, length);
        text += step;
        left -= step;
    }
    hf_text_add(out, "\"");
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

/* Whether it may stand on one line: nothing nested in it, and short. */
static bool is_flat(const hf_json *value, const hf_python_style *style) {
    size_t length = 0;
    for (const hf_json *item = value->first; item; item = item->next) {
        if (is_dropped(style, item->key)) continue;
        if (is_nest(item)) return false;
        length += WORDS + (item->key ? strlen(item->key) : 0);
        length += item->kind == HF_JSON_TEXT ? strlen(item->text) : FIGURES;
    }
    return length < LINE;
}

static void add_line(hf_text *out, int indent) {
    hf_text_add(out, "\n");
    for (int i = 0; i < indent * INDENT; i++) hf_text_add(out, " ");
}

static void add_nest(hf_text *out, const hf_json *value, const hf_python_style *style, int indent) {
    bool flat = is_flat(value, style), first = true, object = value->kind == HF_JSON_OBJECT;
    hf_text_add(out, object ? "{" : "[");
    for (const hf_json *item = value->first; item; item = item->next) {
        if (is_dropped(style, item->key)) continue;
        if (!first) hf_text_add(out, flat ? ", " : ",");
        if (!flat) add_line(out, indent + 1);
        first = false;
        if (item->key) {
            hf_python_text(out, item->key);
            hf_text_add(out, ": ");
        }
        hf_python_value(out, item, style, indent + 1);
    }
    if (!flat && !first) add_line(out, indent);
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
        hf_python_text(out, value->text);
        break;
    case HF_JSON_ARRAY:
    case HF_JSON_OBJECT:
        add_nest(out, value, style, indent);
        break;
    }
}
