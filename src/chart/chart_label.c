/* Labels: every text takes its place once; a text that finds none is moved or left out, never printed over another. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "chart/chart.h"

enum { ASCENT = 13, DESCENT = 4, EDGE = 4, SAMPLE = 26, LANES_GAP = 6, BESIDE = 5, NAME_GAP = 14 };

static hf_place_box box_of(hf_point at, hf_anchor anchor, double width, double size) {
    double left = anchor == HF_ANCHOR_START    ? at.x
                  : anchor == HF_ANCHOR_MIDDLE ? at.x - width / 2
                                               : at.x - width;
    return (hf_place_box){left, at.y - ASCENT * size, left + width, at.y + DESCENT * size};
}

static bool is_free(const hf_chart *chart, hf_place_box box) {
    if (box.left < EDGE || box.right > chart->width - EDGE || box.top < 0 || box.bottom > chart->height)
        return false;
    for (size_t i = 0; i < chart->taken_count; i++) {
        const hf_place_box *other = &chart->taken[i];
        if (box.left < other->right + 2 && other->left < box.right + 2 && box.top < other->bottom &&
            other->top < box.bottom)
            return false;
    }
    return true;
}

static bool take(hf_chart *chart, hf_place_box box) {
    if (chart->taken_count == chart->taken_capacity) {
        size_t capacity = 2 * chart->taken_capacity + 64;
        hf_place_box *more = HF_ARENA_NEW_ARRAY(chart->words.arena, hf_place_box, capacity);
        if (!more) {
            chart->out->failed = true;
            return false;
        }
        if (chart->taken_count) memcpy(more, chart->taken, chart->taken_count * sizeof *more);
        chart->taken = more;
        chart->taken_capacity = capacity;
    }
    chart->taken[chart->taken_count++] = box;
    return true;
}

void hf_label_head(hf_chart *chart, hf_point at, const char *text) {
    double room = chart->width - 2 * at.x;
    (void)take(chart, (hf_place_box){0, at.y - HF_FONT, chart->width, at.y + DESCENT + 2});
    hf_text_addf(chart->out, "<text class=\"head\" x=\"%.2f\" y=\"%.2f\"", at.x, at.y);
    if (hf_label_width(text) > room / HF_BOLD_SHARE) text = hf_chart_cut(chart, text, room / HF_BOLD_SHARE);
    if (hf_label_is_pressed(text))
        hf_text_addf(chart->out, " textLength=\"%.2f\" lengthAdjust=\"spacingAndGlyphs\"",
                     hf_label_width(text) * HF_BOLD_SHARE);
    hf_text_add(chart->out, ">");
    hf_chart_add_text(chart->out, text);
    hf_text_add(chart->out, "</text>\n");
}

/* `look`: a class of the style sheet that makes the letters so many times as large and, being bold, as wide. */
static bool put(hf_chart *chart, hf_point at, hf_anchor anchor, const char *text, const char *look,
                double size, double bold) {
    static const char *const anchors[] = {"start", "middle", "end"};
    double width = hf_label_width(text) * size * bold;
    hf_place_box box = box_of(at, anchor, width, size);
    if (!is_free(chart, box) || !take(chart, box)) return false;
    hf_text_add(chart->out, "<text");
    if (look) hf_text_addf(chart->out, " class=\"%s\"", look);
    hf_text_addf(chart->out, " x=\"%.2f\" y=\"%.2f\" text-anchor=\"%s\"", at.x, at.y, anchors[anchor]);
    if (hf_label_is_pressed(text))
        hf_text_addf(chart->out, " textLength=\"%.2f\" lengthAdjust=\"spacingAndGlyphs\"", width);
    hf_text_add(chart->out, ">");
    hf_chart_add_text(chart->out, text);
    hf_text_add(chart->out, "</text>\n");
    return true;
}

bool hf_label_put(hf_chart *chart, hf_point at, hf_anchor anchor, const char *text) {
    return put(chart, at, anchor, text, NULL, 1, 1);
}

static const struct {
    const char *look;
    double size, bold; /* of the letters, and how much wider they are than plain ones */
} sizes[] = {[HF_LABEL_SMALL] = {"small", 11, 1},
             [HF_LABEL_WARNING] = {"small warn", 11, HF_BOLD_SHARE},
             [HF_LABEL_NAME] = {"head", HF_FONT, HF_BOLD_SHARE},
             [HF_LABEL_TITLE] = {"title", 18, HF_BOLD_SHARE},
             [HF_LABEL_LARGE] = {"large", 22, HF_BOLD_SHARE}};

double hf_label_width_as(hf_label_size size, const char *text) {
    return hf_label_width(text) * sizes[size].size / HF_FONT * sizes[size].bold;
}

const char *hf_label_cut_as(hf_chart *chart, hf_label_size size, const char *text, double width) {
    return hf_label_width_as(size, text) > width
               ? hf_chart_cut(chart, text, width * HF_FONT / sizes[size].size / sizes[size].bold)
               : text;
}

double hf_label_put_as(hf_chart *chart, hf_point at, double width, hf_label_size size, const char *text) {
    text = hf_label_cut_as(chart, size, text, width);
    return put(chart, at, HF_ANCHOR_START, text, sizes[size].look, sizes[size].size / HF_FONT,
               sizes[size].bold)
               ? hf_label_width_as(size, text)
               : 0;
}

double hf_lanes_height(size_t count) {
    return (double)count * HF_LINE_HEIGHT + LANES_GAP;
}

/* A line left of the plot is not drawn; its name points to where it would be. */
static bool named_only(hf_chart *chart, const hf_named_line *line, double y) {
    if (hf_scale_place(&chart->x, line->value) >= chart->plot.left - 0.5) return false;
    (void)hf_label_put(chart, (hf_point){chart->plot.left, y}, HF_ANCHOR_START,
                       hf_chart_format(chart, "← %s", line->name));
    return true;
}

/* One lane for each name: the first is the highest. A name stands beside its line, or over it where neither side has room. */
void hf_lines_upright(hf_chart *chart, const hf_named_line *lines, size_t count) {
    for (size_t i = 0; i < count; i++) {
        double x = hf_scale_place(&chart->x, lines[i].value), width = hf_label_width(lines[i].name);
        double y = chart->plot.top - LANES_GAP - (double)(count - 1 - i) * HF_LINE_HEIGHT;
        if (named_only(chart, &lines[i], y)) continue;
        bool right = x + BESIDE + width<chart->width - EDGE, left = x - BESIDE - width> EDGE;
        double top = right || left ? y - ASCENT + 1 : y + DESCENT + 2;
        hf_mark_stroke(chart, (hf_point){x, top}, (hf_point){x, chart->plot.bottom}, lines[i].look);
        if (right)
            (void)hf_label_put(chart, (hf_point){x + BESIDE, y}, HF_ANCHOR_START, lines[i].name);
        else if (left)
            (void)hf_label_put(chart, (hf_point){x - BESIDE, y}, HF_ANCHOR_END, lines[i].name);
        else
            (void)hf_label_put(chart, (hf_point){chart->width / 2, y}, HF_ANCHOR_MIDDLE, lines[i].name);
    }
}

double hf_lines_room(const hf_named_line *lines, size_t count) {
    double widest = 0;
    for (size_t i = 0; i < count; i++) widest = fmax(widest, hf_label_width(lines[i].name));
    return widest + NAME_GAP + 2 * EDGE;
}

static int by_value_down(const void *a, const void *b) {
    double left = ((const hf_named_line *)a)->value, right = ((const hf_named_line *)b)->value;
    return (left < right) - (left > right);
}

void hf_lines_across(hf_chart *chart, hf_named_line *lines, size_t count) {
    double least = -INFINITY, right = chart->plot.right;
    qsort(lines, count, sizeof *lines, by_value_down);
    for (size_t i = 0; i < count; i++) {
        double line = hf_scale_place(&chart->y, lines[i].value);
        double room = (double)(count - 1 - i) * HF_LINE_HEIGHT;
        double y = fmax(fmin(line, chart->plot.bottom - room), least);
        if (lines[i].look)
            hf_mark_stroke(chart, (hf_point){chart->plot.left, line}, (hf_point){right, line}, lines[i].look);
        hf_mark_stroke(chart, (hf_point){right, line}, (hf_point){right + 10, y}, "axis");
        (void)hf_label_put(chart, (hf_point){right + NAME_GAP, y + 5}, HF_ANCHOR_START, lines[i].name);
        least = y + HF_LINE_HEIGHT;
    }
}

static void draw_band_sample(hf_chart *chart, hf_point at, const char *look) {
    hf_place_box box = {at.x, at.y - 6, at.x + SAMPLE, at.y + 6};
    hf_mark_rectangle(chart, box, "soft");
    hf_mark_stroke(chart, (hf_point){box.left, box.top}, (hf_point){box.right, box.top}, look);
    hf_mark_stroke(chart, (hf_point){box.left, box.bottom}, (hf_point){box.right, box.bottom}, look);
}

static void draw_sample(hf_chart *chart, hf_point at, const hf_key_entry *entry) {
    hf_point middle = {at.x + SAMPLE / 2.0, at.y};
    if (entry->shape >= 0)
        hf_mark_shape(chart, middle, (size_t)entry->shape, 4.5, entry->look);
    else if (entry->shape == HF_KEY_UPRIGHT)
        hf_mark_stroke(chart, (hf_point){middle.x, at.y - 7}, (hf_point){middle.x, at.y + 7}, entry->look);
    else if (entry->shape == HF_KEY_NOTE)
        return;
    else if (entry->shape == HF_KEY_BAND)
        draw_band_sample(chart, at, entry->look);
    else if (entry->arrow)
        hf_mark_arrow(chart, at, at.x + SAMPLE, entry->look);
    else
        hf_mark_stroke(chart, at, (hf_point){at.x + SAMPLE, at.y}, entry->look);
}

double hf_key(hf_chart *chart, double top, const hf_key_entry *entries, size_t count) {
    double left = 12, x = left, y = HF_LINE_HEIGHT;
    for (size_t i = 0; i < count; i++) {
        double sample = entries[i].shape == HF_KEY_NOTE ? 0 : SAMPLE + 8;
        double needed = sample + hf_label_width(entries[i].text) + 14;
        if (x > left && x + needed > chart->width) {
            x = left;
            y += HF_LINE_HEIGHT + 2;
        }
        if (!isnan(top)) {
            draw_sample(chart, (hf_point){x, top + y - 5}, &entries[i]);
            (void)hf_label_put(chart, (hf_point){x + sample, top + y}, HF_ANCHOR_START, entries[i].text);
        }
        x += needed;
    }
    return count ? y + 8 : 0;
}
