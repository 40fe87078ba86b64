/* The table of charts, the frame of a picture and its style. */
#include "report/chart.h"
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "report/html.h"

static const hf_chart_kind table[] = {
    {.name = "pulls",
     .summary = "every pull from held to failed, with bound and working load",
     .needs_design = true,
     .draw = hf_chart_pulls},
    {.name = "steps",
     .summary = "from the best single pull down to the working load",
     .needs_design = true,
     .draw = hf_chart_steps},
    {.name = "bound",
     .summary = "the bound to expect from 2, 3, … parts and the range chance leaves",
     .needs_plan = true,
     .draw = hf_chart_bound},
    {.name = "ladder",
     .summary = "the rungs of the ladder under the guessed strengths",
     .needs_plan = true,
     .draw = hf_chart_ladder},
    {.name = "step",
     .summary = "what finer or coarser steps cost",
     .needs_plan = true,
     .needs_curve = true,
     .draw = hf_chart_step},
};

enum { KINDS = sizeof table / sizeof *table, TITLE_COLUMNS = 60 };

/* Blue and vermilion keep 3:1 against the paper in both modes; text is ink. */
static const char style_sheet[] =
    "<style>.hf-chart text{font:14px sans-serif;fill:#1b1f24;stroke:none}.hf-chart .head{font-weight:bold}"
    ".hf-chart .paper{fill:#fff}.hf-chart .axis{fill:none;stroke:#5b6470}.hf-chart .grid{stroke:#dde1e6}"
    ".hf-chart .line{fill:none;stroke-width:2}.hf-chart .thick{stroke-width:6}.hf-chart .thin{stroke-width:1}"
    ".hf-chart .dash{stroke-dasharray:8 4}.hf-chart .dot{stroke-dasharray:2 3}"
    ".hf-chart .b{stroke:#0072b2}.hf-chart .v{stroke:#d55e00}.hf-chart .g{stroke:#5b6470}"
    ".hf-chart .fb{fill:#0072b2}.hf-chart .fv{fill:#d55e00}.hf-chart .soft{fill:#0072b2;fill-opacity:.16}"
    ".hf-chart .dotshape{fill:#fff;stroke:#0072b2;stroke-width:2}"
    "@media (prefers-color-scheme:dark){.hf-chart text{fill:#e8eaed}.hf-chart .paper{fill:#16191d}"
    ".hf-chart .axis,.hf-chart .g{stroke:#a3abb5}.hf-chart .grid{stroke:#30363d}.hf-chart .b{stroke:#56b4e9}"
    ".hf-chart .v{stroke:#ff9e57}.hf-chart .fb,.hf-chart .soft{fill:#56b4e9}.hf-chart .fv{fill:#ff9e57}"
    ".hf-chart .dotshape{fill:#16191d;stroke:#56b4e9}}</style>";

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

/* U+FFFE and U+FFFF are characters of UTF-8 and not of XML. */
static bool is_no_character(const char *bytes, size_t length) {
    return length == 3 && memcmp(bytes, "\xEF\xBF", 2) == 0 && ((unsigned char)bytes[2] & 0xFEU) == 0xBEU;
}

void hf_chart_add_text(hf_text *out, const char *text) {
    hf_text clean = {0}, valid = {0};
    hf_add_clean(&clean, text, " ");
    for (size_t at = 0; at < clean.length;) {
        size_t length = hf_text_character(clean.bytes + at, clean.length - at);
        if (length == 0 || is_no_character(clean.bytes + at, length))
            hf_text_add(&valid, "?");
        else
            hf_text_add_bytes(&valid, clean.bytes + at, length);
        at += length ? length : 1;
    }
    if (valid.length) hf_html_add(out, valid.bytes);
    if (clean.failed || valid.failed) out->failed = true;
    hf_text_free(&clean);
    hf_text_free(&valid);
}

const char *hf_chart_cut(hf_chart *chart, const char *text, size_t columns) {
    if (hf_text_columns(text) <= columns) return text;
    return hf_chart_format(chart, "%.*s…", (int)hf_text_cut(text, columns - 1), text);
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

void hf_chart_open(hf_chart *chart, double height, const char *title, const char *finding) {
    chart->width = HF_CHART_WIDTH;
    chart->height = height;
    hf_text_addf(chart->out,
                 "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"hf-chart\" role=\"img\" viewBox=\"0 0 %d "
                 "%.0f\" width=\"%d\" height=\"%.0f\">\n"
                 "<title>",
                 HF_CHART_WIDTH, height, HF_CHART_WIDTH, height);
    hf_chart_add_text(chart->out, title);
    hf_text_add(chart->out, "</title>\n<desc>");
    hf_chart_add_text(chart->out, finding);
    hf_text_addf(chart->out,
                 "</desc>\n%s\n<rect class=\"paper\" width=\"%d\" height=\"%.0f\"/>\n<text class=\"head\" "
                 "x=\"12\" y=\"22\">",
                 style_sheet, HF_CHART_WIDTH, height);
    hf_chart_add_text(chart->out, hf_chart_cut(chart, title, TITLE_COLUMNS));
    hf_text_add(chart->out, "</text>\n");
    chart->taken[chart->taken_count++] = (hf_place_box){0, 8, HF_CHART_WIDTH, 27};
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
        chart->words = (hf_document){.arena = arena, .style = style};
        nothing = kind->draw(chart, subject);
    }
    if (!chart || picture.failed)
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    else if (nothing)
        status = hf_error_set(error, HF_NO_RESULT, "no chart \"%s\": %s", kind->name, nothing);
    else
        hf_text_add_bytes(out, picture.bytes, picture.length);
    hf_text_free(&picture);
    hf_arena_free(arena);
    return status;
}
