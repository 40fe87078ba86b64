/* The cells that hold the campaign file and Holdfast's numbers as Python values. */
#include <string.h>
#include "holdfast/base/json.h"
#include "words/json_report.h"
#include "handover/notebook_parts.h"

enum { SHORT_ID = 18 }; /* bytes of an id that leaves room beside it */

void hf_notebook_file(hf_notebook_writer *w) {
    const hf_campaign *campaign = w->study->campaign;
    const hf_python_style style = {.source = campaign->text};
    hf_text_add(&w->text,
                "### The file and Holdfast's numbers\n\nThe campaign file itself, word for word, as "
                "a Python value:\n");
    hf_notebook_end_markdown(w);
    hf_text_add(&w->text, "CAMPAIGN = ");
    hf_python_value(&w->text, campaign->root, &style, 0);
    hf_text_addf(&w->text,
                 "\nUNIT = \"%s\"  # of all loads shown\nSEED = %llu  # of the numbers drawn here\n",
                 w->style->unit->name, (unsigned long long)w->study->assessment->options.seed);
    hf_notebook_end_code(w, false);
}

static const hf_json *result_json(hf_notebook_writer *w, const hf_report_kind *kind, const void *result) {
    hf_text text = {0};
    const hf_json *root = NULL;
    hf_report_json(kind, result, w->style, &text);
    if (text.failed || hf_json_parse(w->arena, "result", text.bytes, text.length, &root, w->error) != HF_OK)
        hf_notebook_fail(w, text.failed ? HF_MEMORY : HF_NUMERIC);
    hf_text_free(&text);
    return root;
}

static void add_interval(hf_notebook_writer *w, const hf_pull *pull) {
    static const char *const kinds[] = {"none", "exact", "closed", "below", "above"};
    if (pull->kind == HF_INTERVAL_NONE) {
        hf_text_add(&w->text, "None");
        return;
    }
    hf_text_addf(&w->text, "(\"%s\", ", kinds[pull->kind]);
    hf_python_number(&w->text, hf_in_unit(w->style, pull->lower));
    hf_text_add(&w->text, ", ");
    hf_python_number(&w->text, hf_in_unit(w->style, pull->upper));
    hf_text_add(&w->text, ")");
}

static void add_intervals(hf_notebook_writer *w, const hf_campaign *campaign) {
    hf_text_add(&w->text, "PULLS = {\n");
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            hf_text_add(&w->text, "    ");
            size_t before = w->text.length;
            hf_python_broken_text(&w->text, specimen->id);
            hf_text_add(&w->text, w->text.length - before > SHORT_ID ? ":\n        {" : ": {");
            hf_text_add(&w->text, "\"break\": ");
            add_interval(w, &specimen->pull);
            if (specimen->set.kind != HF_INTERVAL_NONE) {
                hf_text_add(&w->text, ",\n         \"set\": ");
                add_interval(w, &specimen->set);
            }
            hf_text_add(&w->text, "},\n");
        }
    hf_text_add(&w->text, "}\n");
}

void hf_notebook_numbers(hf_notebook_writer *w) {
    static const char *const not_redone[] = {"anderson_darling",
                                             "batches",
                                             "cautions",
                                             "counts",
                                             "goal",
                                             "iterations",
                                             "k_standard_error",
                                             "lower_end",
                                             "middles",
                                             "name",
                                             "outlier",
                                             "sensitivity",
                                             "shape",
                                             "scale",
                                             "step",
                                             "steps",
                                             "trade",
                                             "trend",
                                             "upper_end",
                                             NULL};
    static const char *const not_compared[] = {"cautions",
                                               "designs",
                                               "file",
                                               "format",
                                               "games_howell",
                                               "gravity",
                                               "groups",
                                               "head_to_head",
                                               "league",
                                               "outlasts",
                                               "p_floor",
                                               "p_permutation",
                                               "p_same",
                                               "p_scatter",
                                               "parts_to_settle",
                                               "power",
                                               "quantile",
                                               "relabeling",
                                               "separate_scatter",
                                               "sha256",
                                               "smallest_visible_ratio",
                                               "title",
                                               "unit",
                                               "version",
                                               NULL};
    const hf_python_style assessed = {.dropped = not_redone}, compared = {.dropped = not_compared};
    const hf_json *assess = result_json(w, &hf_report_assess, w->study->assessment);
    const hf_json *designs = assess ? hf_json_get(assess, "designs") : NULL;
    hf_text_addf(
        &w->text,
        "What Holdfast found, at nine figures: the strength of every pull, fits and bounds%s. The cells "
        "below try to disagree with it.\n",
        hf_notebook_compares(w) ? ", and the comparison" : "");
    hf_notebook_end_markdown(w);
    add_intervals(w, w->study->campaign);
    hf_text_add(&w->text, "DESIGNS = ");
    if (designs) hf_python_value(&w->text, designs, &assessed, 0);
    hf_text_add(&w->text, "\nRESULTS = {design[\"id\"]: design for design in DESIGNS}\nCOMPARISON = ");
    const hf_json *compare =
        hf_notebook_compares(w) ? result_json(w, &hf_report_compare, w->study->comparison) : NULL;
    if (compare)
        hf_python_value(&w->text, compare, &compared, 0);
    else
        hf_text_add(&w->text, "None");
    hf_text_add(&w->text, "\n");
    hf_notebook_end_code(w, true);
}
