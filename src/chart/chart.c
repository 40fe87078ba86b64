/* The table of charts, the frame of a picture and its style. */
#include "chart/chart.h"
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "pages/chart_style.h"
#include "words/assess_words.h"

#define NEEDS_DESIGN .needs_design = true
#define NEEDS_PROBABILITY .needs_design = true, .needs_probability = true
#define NEEDS_PLAN .needs_plan = true
#define NEEDS_CURVE .needs_plan = true, .needs_curve = true
#define NEEDS_ASSESSMENT .needs_assessment = true
#define NEEDS_LABEL .needs_design = true, .needs_assessment = true
#define NEEDS_SO_FAR .needs_so_far = true
#define NEEDS_COMPARISON .needs_comparison = true
#define NEEDS_EARLIER .needs_earlier = true
#define KIND_ROW(kind, needs, words)                                                                         \
    {.name = #kind, .summary = words, NEEDS_##needs, .draw = hf_chart_##kind},

static const hf_chart_kind table[] = {HF_CHART_LIST(KIND_ROW)};

enum { KINDS = sizeof table / sizeof *table, LEFT = 12, BELOW = 8, TITLE_MOST = 3, DESIGN_WIDTH = 300 };

const hf_chart_kind *hf_chart_kind_table(size_t *count) {
    *count = KINDS;
    return table;
}

const char *hf_chart_kind_name(size_t at) {
    return at < KINDS ? table[at].name : NULL;
}

const hf_chart_kind *hf_chart_kind_find(const char *name) {
    for (size_t i = 0; i < KINDS; i++)
        if (strcmp(table[i].name, name) == 0) return &table[i];
    return NULL;
}

bool hf_chart_can_draw(const hf_chart_kind *kind, const hf_chart_subject *subject) {
    return (!kind->needs_plan || subject->plan) && (!kind->needs_curve || subject->curve) &&
           (!kind->needs_design || subject->design) && (!kind->needs_assessment || subject->assessment) &&
           (!kind->needs_so_far || subject->so_far) && (!kind->needs_comparison || subject->comparison) &&
           (!kind->needs_probability || subject->probability) && (!kind->needs_earlier || subject->earlier);
}

const char *hf_chart_format(hf_chart *chart, const char *format, ...) {
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    char *text = length < 0 ? NULL : hf_arena_array(chart->words.arena, (size_t)length + 1, 1);
    if (text)
        (void)vsnprintf(text, (size_t)length + 1, format, again);
    else
        chart->out->failed = true;
    va_end(again);
    va_end(arguments);
    return text ? text : "";
}

const char *hf_chart_design(hf_chart *chart, const hf_design *design) {
    return hf_chart_cut(chart, design->name ? design->name : design->id, DESIGN_WIDTH);
}

const char *hf_chart_rejected(const hf_event_assessment *event) {
    return hf_governing_rejected(event) ? " (law rejected)" : "";
}

double hf_chart_asked(const hf_design *design) {
    const hf_goal *goal = &design->goal;
    return goal->service_load.given     ? goal->service_load.value
           : goal->required_bound.given ? goal->required_bound.value
                                        : NAN;
}

const char *hf_chart_asked_words(hf_chart *chart, const hf_design *design) {
    return hf_chart_format(chart, "%s: %s", design->goal.service_load.given ? "asked" : "bound asked",
                           hf_chart_load_stated(chart, hf_chart_asked(design)));
}

const char *hf_chart_count(hf_chart *chart, size_t count, const char *one, const char *many) {
    return hf_chart_format(chart, "%zu %s", count, count == 1 ? one : many);
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* Bytes of a sign, unit or word that stays with the number before it; 0: the line may end here. */
static size_t unit_length(const hf_chart *chart, const char *text, size_t at) {
    const char *const units[] = {"%",     "÷", chart->words.style->unit->name, "still whole", "failed",
                                 "parts", "of"};
    const char *words = text + at;
    for (size_t i = 0; *words == ' ' && i < sizeof units / sizeof *units; i++) {
        size_t length = strlen(units[i]);
        if (strncmp(words + 1, units[i], length) != 0) continue;
        if (i > 2 && !(at && is_digit(words[-1]))) continue;
        length += 1 + strspn(words + 1 + length, ".,;:)");
        if (words[length] != ' ' && words[length] != '\0') continue;
        return strcmp(units[i], "of") == 0 && is_digit(words[length + (words[length] == ' ')])
                   ? length + 1 + strcspn(words + length + 1, " ")
                   : length;
    }
    return 0;
}

/* Bytes of the next line of `words` that is at most so wide; a word that is wider stands alone and is cut when printed. */
static size_t line_length(hf_chart *chart, const char *words, double width) {
    size_t length = 0;
    while (words[length]) {
        size_t next = length + strspn(words + length, " ");
        next += strcspn(words + next, " ");
        for (size_t more; (more = unit_length(chart, words, next)) > 0;) next += more;
        if (length && hf_label_width(hf_chart_format(chart, "%.*s", (int)next, words)) > width) break;
        length = next;
    }
    return length;
}

/* A line of words; a name that is broken between lines is kept to itself on each. *open: it goes on from the line before. */
static const char *line_of(hf_chart *chart, const char *words, size_t length, bool *open) {
    static const char begin[] = "\xE2\x81\xA8", end[] = "\xE2\x81\xA9";
    bool before = *open;
    for (size_t i = 0; i + 2 < length; i++) {
        if (strncmp(words + i, begin, strlen(begin)) == 0) *open = true;
        if (strncmp(words + i, end, strlen(end)) == 0) *open = false;
    }
    return hf_chart_format(chart, "%s%.*s%s", before ? begin : "", (int)length, words, *open ? end : "");
}

/* Prints the words under `top`, or only measures them (`print` false). Returns the height they take. */
static double caption(hf_chart *chart, double top, const char *words, bool print) {
    const double width = chart->width - 2 * LEFT;
    size_t lines = 0;
    bool open = false;
    if (chart->finding_beside) return BELOW;
    while (*(words += strspn(words, " "))) {
        size_t length = line_length(chart, words, width);
        const char *line = line_of(chart, words, length, &open);
        hf_point at = {LEFT, top + HF_FONT + (double)lines * HF_LINE_HEIGHT};
        if (hf_label_width(line) > width) line = hf_chart_cut(chart, line, width);
        if (print) (void)hf_label_put(chart, at, HF_ANCHOR_START, line);
        words += length;
        lines++;
    }
    return (double)lines * HF_LINE_HEIGHT + BELOW;
}

/* Lines of a title; what has no room in the last is cut there. */
static size_t lines_at(hf_chart *chart, const char *title, double width, const char *lines[TITLE_MOST]) {
    size_t count = 0;
    bool open = false;
    while (*(title += strspn(title, " ")) && count < TITLE_MOST) {
        size_t length = count + 1 < TITLE_MOST ? line_length(chart, title, width) : strlen(title);
        lines[count++] = line_of(chart, title, length, &open);
        title += length;
    }
    return count;
}

/* Two lines about equally long, parted at a comma or colon where one is near. */
static void part_in_two(hf_chart *chart, const char *title, double width, const char *lines[TITLE_MOST]) {
    const double off_comma = 60;
    double best = INFINITY;
    for (size_t at = line_length(chart, title, 0); title[at]; at += line_length(chart, title + at, 0)) {
        bool open = false;
        const char *first = line_of(chart, title, at, &open), *rest = title + at + strspn(title + at, " "),
                   *second = line_of(chart, rest, strlen(rest), &open);
        double widest = fmax(hf_label_width(first), hf_label_width(second)),
               cost = widest + (strchr(",:", title[at - 1]) ? 0 : off_comma);
        if (widest > width || cost >= best) continue;
        best = cost;
        lines[0] = first;
        lines[1] = second;
    }
}

/* The name and its colon in a line of their own, where what is said of it then has room in two. */
static void part_after_name(hf_chart *chart, const char *title, double width, const char *lines[TITLE_MOST]) {
    const char *colon = strstr(title, ": "), *rest[TITLE_MOST];
    bool open = false;
    if (!colon) return;
    const char *name = line_of(chart, title, (size_t)(colon + 1 - title), &open);
    if (open || hf_label_width(name) > width || lines_at(chart, colon + 2, width, rest) != 2) return;
    part_in_two(chart, colon + 2, width, rest);
    lines[0] = name;
    lines[1] = rest[0];
    lines[2] = rest[1];
}

static size_t title_lines(hf_chart *chart, const char *title, const char *lines[TITLE_MOST]) {
    double width = (chart->width - 2 * LEFT) / HF_BOLD_SHARE;
    title += strspn(title, " ");
    size_t count = lines_at(chart, title, width, lines);
    if (count == 2) part_in_two(chart, title, width, lines);
    if (count == 3) part_after_name(chart, title, width, lines);
    return count;
}

void hf_chart_begin(hf_chart *chart, double top, double height, double scale, const char *title,
                    const char *finding) {
    chart->height = top + height;
    hf_text_addf(chart->out,
                 "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"hf-chart %s\" role=\"img\" "
                 "viewBox=\"0 %.0f %.0f %.0f\" width=\"%.0f\" height=\"%.0f\">\n"
                 "<title>",
                 chart->narrow ? "narrow" : "wide", top, chart->width, height, scale * chart->width,
                 scale * height);
    hf_chart_add_text(chart->out, title);
    hf_text_add(chart->out, "</title>\n<desc>");
    hf_chart_add_text(chart->out, finding);
    hf_text_add(chart->out, "</desc>\n<style>");
    hf_text_add_lines(chart->out, hf_page_chart_css);
    hf_text_add(chart->out, "</style>");
    hf_text_addf(chart->out, "\n<rect class=\"paper\" y=\"%.0f\" width=\"%.0f\" height=\"%.0f\"/>\n", top,
                 chart->width, height);
}

void hf_chart_open(hf_chart *chart, double height, const char *title, const char *finding) {
    const char *lines[TITLE_MOST];
    size_t count = title_lines(chart, title, lines);
    double top = count > 1 ? -(double)(count - 1) * HF_LINE_HEIGHT : 0;
    hf_chart_begin(chart, top, height + caption(chart, height, finding, false) - top, 1, title, finding);
    for (size_t i = 0; i < count; i++)
        hf_label_head(chart, (hf_point){LEFT, 22 + top + (double)i * HF_LINE_HEIGHT}, lines[i]);
    (void)caption(chart, height, finding, true);
}

void hf_chart_close(hf_chart *chart) {
    hf_text_add(chart->out, "</svg>\n");
}

hf_status hf_chart_draw(const hf_chart_kind *kind, const hf_chart_subject *subject,
                        const hf_report_style *style, hf_text *out, hf_error *error) {
    hf_text picture = {0};
    const char *nothing = NULL;
    hf_status status = HF_OK;
    hf_arena *arena = hf_arena_create();
    hf_chart *chart = arena ? HF_ARENA_NEW(arena, hf_chart) : NULL;
    if (chart) {
        chart->out = &picture;
        chart->finding_beside = subject->finding_beside;
        chart->width = subject->width ? subject->width : HF_CHART_WIDE;
        chart->narrow = chart->width < HF_CHART_BETWEEN;
        chart->words = hf_document_for(arena, style);
        nothing = kind->draw(chart, subject);
    }
    if (!chart || picture.failed)
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    else if (nothing)
        status = hf_error_set(error, HF_NO_RESULT, "no chart \"%s\": %s", kind->name, nothing);
    else
        hf_text_add_bytes(out, picture.bytes, picture.length);
    if (out->failed) status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    hf_text_free(&picture);
    hf_arena_free(arena);
    return status;
}
