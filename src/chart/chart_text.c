/* Texts of a picture: how wide they are at most, cut to a width, safe inside XML. The reader's font is not known, so widths are those of a wide one,
 * and a text in a script whose widths are not known here is pressed into the width it was given. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include "words/assess_words.h"
#include "chart/chart.h"
#include "document/html.h"

enum { MARKS_MOST = 2 };

/* Hundredths of the font size that the printable ASCII characters take in DejaVu Sans, which is as wide as common sans-serif fonts get. */
static const unsigned char ascii_width[] = {
    32, 40, 46, 84, 64, 95, 78, 28, 39,  39, 50, 84, 32, 36, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64,
    64, 64, 34, 34, 84, 84, 84, 53, 100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79,
    60, 79, 69, 63, 61, 73, 68, 99, 69,  61, 69, 39, 34, 39, 84, 50, 50, 61, 63, 55, 63, 62, 35, 63,
    63, 28, 28, 58, 28, 97, 63, 61, 63,  63, 41, 52, 39, 63, 59, 82, 59, 59, 52, 64, 34, 64, 84};

/* Blocks whose widest letter is known; hundredths of the font size. The first that fits counts. */
typedef struct width_block {
    uint32_t first, last;
    int width;
} width_block;

static const width_block blocks[] = {
    {0x00A0, 0x00A0, 32},  {0x00B7, 0x00B7, 35},  {0x00D7, 0x00D7, 84},  {0x00F7, 0x00F7, 84},
    {0x00A0, 0x017F, 107}, {0x01C4, 0x01F3, 142}, {0x0180, 0x024F, 107}, {0x0370, 0x03FF, 94},
    {0x0400, 0x052F, 118}, {0x0590, 0x05FF, 75},  {0x0600, 0x06FF, 123}, {0x1E00, 0x1FFF, 110},
    {0x2010, 0x2015, 100}, {0x2018, 0x201E, 55},  {0x2026, 0x2026, 100}, {0x2070, 0x208E, 54},
    {0x2190, 0x2193, 84},  {0x2212, 0x2212, 84},  {0x221E, 0x221E, 84},  {0x2264, 0x2265, 84},
};
enum { BLOCKS = sizeof blocks / sizeof *blocks, WIDE_WIDTH = 104, UNKNOWN_WIDTH = 75, PICTURE_WIDTH = 137 };
static const double font_slack = 1.03;

static uint32_t decode(const char *text, size_t length) {
    const unsigned char *s = (const unsigned char *)text;
    static const unsigned char mask[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    uint32_t point = s[0] & mask[length];
    for (size_t i = 1; i < length; i++) point = point << 6 | (s[i] & 0x3FU);
    return point;
}

/* One character of a text: bytes, hundredths of the font size, whether the width is that of a known script. */
typedef struct character {
    size_t length;
    uint32_t point;
    int width;
    bool known, mark;
} character;

static bool is_isolate(uint32_t point) {
    return point >= 0x2066 && point <= 0x2069;
}

static size_t columns_of(const char *text, size_t length) {
    char one[5] = {0};
    memcpy(one, text, length);
    return hf_text_columns(one);
}

static character character_at(const char *text) {
    character out = {hf_text_character(text, strlen(text)), 0, 0, true, false};
    if (out.length == 0) return (character){1, '?', ascii_width['?' - ' '], true, false};
    out.point = decode(text, out.length);
    if (out.point < 0x20 || out.point == 0x7F || is_isolate(out.point)) return out;
    if (out.point < 0x7F) {
        out.width = ascii_width[out.point - ' '];
        return out;
    }
    size_t columns = columns_of(text, out.length);
    out.mark = columns == 0;
    if (out.mark) return out;
    for (size_t i = 0; i < BLOCKS; i++)
        if (out.point >= blocks[i].first && out.point <= blocks[i].last) {
            out.width = blocks[i].width;
            return out;
        }
    out.known = columns == 2 && (out.point < 0x1F000 || out.point >= 0x20000);
    out.width = out.known ? WIDE_WIDTH : columns == 2 ? PICTURE_WIDTH : UNKNOWN_WIDTH;
    return out;
}

/* The same after the character before it: what is joined to a picture, or colours it, takes no room of its own. */
static character next_character(const char *text, const character *before) {
    character out = character_at(text);
    bool joined = before->point == 0x200D && out.point >= 0x2190,
         tone = out.point >= 0x1F3FB && out.point <= 0x1F3FF;
    if (before->length && (joined || tone)) out.width = 0;
    return out;
}

double hf_label_width(const char *text) {
    double hundredths = 0;
    for (character c = {0}; *text; text += c.length) {
        c = next_character(text, &c);
        hundredths += c.width;
    }
    return hundredths / 100 * HF_FONT * font_slack;
}

bool hf_label_is_pressed(const char *text) {
    for (character c; *text; text += c.length) {
        c = character_at(text);
        if (!c.known || c.mark) return true;
    }
    return false;
}

/* Bytes of `text` that fit into the width; further marks on one letter than MARKS_MOST end the text too. */
static size_t fitting(const char *text, double width) {
    double used = 0;
    size_t at = 0, marks = 0;
    character c = {0};
    while (text[at]) {
        c = next_character(text + at, &c);
        used += (double)c.width / 100 * HF_FONT * font_slack;
        marks = c.mark ? marks + 1 : 0;
        if (used > width || marks > MARKS_MOST) break;
        at += c.length;
    }
    return at;
}

static bool is_plain(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text >= 0x80) return false;
    return true;
}

/* The isolate characters keep what is written from right to left from turning the numbers beside it. */
const char *hf_chart_cut(hf_chart *chart, const char *text, double width) {
    hf_text clean = {0};
    hf_add_clean(&clean, text, " ");
    const char *whole = clean.bytes ? clean.bytes : "";
    size_t length = fitting(whole, width);
    bool cut = whole[length] != '\0', plain = is_plain(whole);
    if (cut) length = fitting(whole, width - hf_label_width("…"));
    const char *out = hf_chart_format(chart, "%s%.*s%s%s", plain ? "" : "\xE2\x81\xA8", (int)length, whole,
                                      cut ? "…" : "", plain ? "" : "\xE2\x81\xA9");
    if (clean.failed) chart->out->failed = true;
    hf_text_free(&clean);
    return out;
}

/* U+FFFE and U+FFFF are characters of UTF-8 and not of XML. */
static bool is_no_character(uint32_t point) {
    return point == 0xFFFE || point == 0xFFFF;
}

void hf_chart_add_text(hf_text *out, const char *text) {
    hf_text valid = {0};
    for (character c; *text; text += c.length) {
        c = character_at(text);
        bool bad = c.length == 1 && (unsigned char)*text >= 0x80;
        if (bad || is_no_character(c.point)) {
            hf_text_add(&valid, "?");
        } else if (is_isolate(c.point)) {
            hf_text_add_bytes(&valid, text, c.length);
        } else {
            char one[5] = {0};
            memcpy(one, text, c.length);
            hf_add_clean(&valid, one, " ");
        }
    }
    if (valid.length) hf_html_add(out, valid.bytes);
    if (valid.failed) out->failed = true;
    hf_text_free(&valid);
}

void hf_chart_add_power(hf_text *out, int power) {
    static const char *const digits[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    int size = abs(power);
    hf_text_addf(out, "10%s", power < 0 ? "⁻" : "");
    if (size >= 100) hf_text_add(out, digits[size / 100]);
    if (size >= 10) hf_text_add(out, digits[size / 10 % 10]);
    hf_text_add(out, digits[size % 10]);
}

void hf_chart_add_times_power(hf_text *out, int power) {
    hf_text_add(out, "×");
    hf_chart_add_power(out, power);
}

/* "1.00e+07 N" as "1.00×10⁷ N". */
static const char *with_power(hf_chart *chart, const char *load) {
    const char *power = strchr(load, 'e');
    hf_text out = {0};
    if (!power || (power[1] != '+' && power[1] != '-')) return load;
    char *rest;
    long exponent = strtol(power + 1, &rest, 10);
    hf_text_add_bytes(&out, load, (size_t)(power - load));
    hf_chart_add_times_power(&out, (int)exponent);
    hf_text_add(&out, rest);
    const char *kept = hf_chart_format(chart, "%s", out.bytes ? out.bytes : "");
    if (out.failed) chart->out->failed = true;
    hf_text_free(&out);
    return kept;
}

const char *hf_chart_load(hf_chart *chart, double newtons) {
    return with_power(chart, hf_show_text(&chart->words, HF_AS_ROUGH, newtons));
}

const char *hf_chart_load_observed(hf_chart *chart, double newtons) {
    const double longest = 1e7; /* above it digits cannot be counted at a glance */
    if (fabs(hf_in_unit(chart->words.style, newtons)) < longest)
        return with_power(chart, hf_seen_load(&chart->words, newtons));
    return with_power(chart, hf_show_text(&chart->words, HF_AS_MEAN, newtons));
}

const char *hf_chart_load_mean(hf_chart *chart, double newtons) {
    return with_power(chart, hf_show_text(&chart->words, HF_AS_MEAN, newtons));
}

const char *hf_chart_load_down(hf_chart *chart, double newtons) {
    return with_power(chart, hf_show_text(&chart->words, HF_AS_RATING, newtons));
}

const char *hf_chart_load_bound(hf_chart *chart, double newtons) {
    return with_power(chart, hf_bound_load(&chart->words, newtons));
}

const char *hf_chart_load_stated(hf_chart *chart, double newtons) {
    return with_power(chart, hf_show_text(&chart->words, HF_AS_STATED, newtons));
}
