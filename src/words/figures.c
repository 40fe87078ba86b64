/* Numbers and names in words. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/words.h"

hf_document hf_document_for(hf_arena *arena, const hf_report_style *style) {
    return (hf_document){.arena = arena,
                         .unit = style->unit->name,
                         .width = style->width,
                         .color = style->color,
                         .style = style};
}

const char *hf_cut_text(hf_document *document, const char *text, size_t columns) {
    if (hf_text_columns(text) <= columns) return text;
    const char *cut = hf_arena_format(document->arena, "%.*s…", (int)hf_text_cut(text, columns - 1), text);
    return cut ? cut : "";
}

const char *hf_design_name(hf_document *document, const hf_design *design) {
    const char *name = design->name && design->name[0] ? design->name : design->id;
    return hf_cut_text(document, name, HF_NAME_COLUMNS);
}

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

const char *hf_figures_text(hf_document *document, double value, int figures) {
    char number[HF_NUMBER_SIZE];
    hf_number_figures(value, figures, number);
    if (number[0] == '-' && number[1]) return or_dash(hf_arena_format(document->arena, "−%s", number + 1));
    return or_dash(hf_arena_text(document->arena, number, strlen(number)));
}

const char *hf_ratio_text(hf_document *document, double ratio) {
    enum { MOST_FIGURES = 17 };
    int figures = 3;
    while (ratio != 1 && hf_number_round(ratio, figures) == 1 && figures < MOST_FIGURES) figures++;
    return hf_figures_text(document, ratio, figures);
}

const char *hf_bare_load(hf_document *document, double newtons, int figures) {
    return hf_figures_text(document, hf_in_unit(document->style, newtons), figures);
}

const char *hf_bound_cell(hf_document *document, double newtons) {
    return newtons <= 0 ? "none above 0" : hf_bare_text(document, HF_AS_BOUND, newtons);
}
