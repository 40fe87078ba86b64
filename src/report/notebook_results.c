/* The cells of a notebook that depend on the campaign. Their words are those of the other reports. */
#include <string.h>
#include "base/version_number.h"
#include "holdfast/base/json.h"
#include "holdfast/report/chart.h"
#include "report/json_report.h"
#include "report/notebook_parts.h"

enum { PICTURES = 4 };

static void *fail(hf_notebook_writer *w, hf_status status) {
    if (w->status == HF_OK) w->status = hf_error_set(w->error, status, "%s", hf_status_text(status));
    return NULL;
}

static hf_document new_document(const hf_notebook_writer *w) {
    return (hf_document){.arena = w->arena, .style = w->style};
}

static bool is_heading(const hf_block *block, const char *text) {
    return block->kind == HF_BLOCK_HEADING && strcmp(block->text, text) == 0;
}

/* Where the part begins that stands once in a notebook. */
static const hf_block *end_of_results(const hf_document *document) {
    const hf_block *block = document->first;
    while (block && !is_heading(block, "Limits")) block = block->next;
    return block;
}

/* The document of one design alone. */
static hf_document design_document(const hf_notebook_writer *w, size_t at) {
    hf_document document = new_document(w);
    hf_assessment *one = HF_ARENA_NEW(w->arena, hf_assessment);
    if (!one) return document;
    *one = *w->notebook->assessment;
    one->designs += at;
    one->count = 1;
    one->cautions = (hf_cautions){0};
    hf_report_assess.document(one, &document);
    return document;
}

static void add_named_heading(hf_notebook_writer *w, const char *before, const char *name) {
    hf_text_add(&w->text, before);
    hf_notebook_add_text(&w->text, name);
    hf_text_add(&w->text, "\n\n");
}

/* --- Title, cautions, data --------------------------------------------------------------------------- */

/* The sentence that answers, and what stands between it and the sum. */
static void add_answer(hf_notebook_writer *w, size_t at) {
    const hf_design_assessment *design = &w->notebook->assessment->designs[at];
    const hf_cautions *cautions = &design->cautions;
    hf_document document = new_document(w);
    hf_assess_answer(&document, design);
    hf_notebook_add_blocks(&w->text, document.first, NULL);
    if (!cautions->count) return;
    hf_text_add(&w->text, "Cautions, told with the results below: ");
    for (size_t i = 0; i < cautions->count; i++) {
        const char *title = hf_report_caution_title(cautions->items[i].code);
        if (i) hf_text_add(&w->text, "; ");
        hf_notebook_add_text(&w->text, title ? title : cautions->items[i].code);
    }
    hf_text_add(&w->text, ".\n\n");
}

void hf_notebook_title(hf_notebook_writer *w, const char *const *about) {
    const hf_campaign *campaign = w->notebook->campaign;
    hf_document title = new_document(w), limits = new_document(w);
    hf_document_add(&title, HF_BLOCK_TITLE, campaign->title[0] ? campaign->title : campaign->file);
    hf_notebook_add_blocks(&w->text, title.first, NULL);
    for (size_t i = 0; i < w->notebook->assessment->count; i++) add_answer(w, i);
    for (; *about; about++) hf_text_add(&w->text, *about);
    hf_notebook_end_markdown(w);
    hf_limits(&limits);
    if (w->notebook->assessment->cautions.count) {
        hf_document_add(&limits, HF_BLOCK_HEADING, "Cautions about the whole file");
        hf_document_cautions(&limits, &w->notebook->assessment->cautions);
    }
    hf_notebook_add_blocks(&w->text, limits.first, NULL);
    hf_notebook_end_markdown(w);
}

void hf_notebook_data(hf_notebook_writer *w) {
    const hf_notebook *notebook = w->notebook;
    hf_document document = new_document(w);
    const hf_check_result check = {.campaign = notebook->campaign, .findings = notebook->findings};
    hf_report_check.document(&check, &document);
    hf_text_add(&w->text, "## The data\n\n");
    hf_notebook_add_blocks(&w->text, document.first ? document.first->next : NULL, NULL);
    hf_text_add(&w->text, "The next cell is the campaign file itself, word for word, as a Python value.\n");
    hf_notebook_end_markdown(w);
    const hf_python_style style = {.source = notebook->campaign->text};
    hf_text_add(&w->text, "CAMPAIGN = ");
    hf_python_value(&w->text, notebook->campaign->root, &style, 0);
    hf_text_addf(&w->text,
                 "\nUNIT = \"%s\"  # of all loads shown\nSEED = %llu  # of the numbers drawn here\n",
                 w->style->unit->name, (unsigned long long)notebook->assessment->options.seed);
    hf_notebook_end_code(w, false);
}

/* --- Holdfast's numbers ------------------------------------------------------------------------------ */

static const hf_json *result_json(hf_notebook_writer *w, const hf_report_kind *kind, const void *result) {
    hf_text text = {0};
    const hf_json *root = NULL;
    kind->json(result, w->style, &text);
    if (text.failed || hf_json_parse(w->arena, "result", text.bytes, text.length, &root, w->error) != HF_OK)
        fail(w, text.failed ? HF_MEMORY : HF_NUMERIC);
    hf_text_free(&text);
    return root;
}

static void add_interval(hf_notebook_writer *w, const hf_pull *pull) {
    static const char *const kinds[] = {"none", "exact", "closed", "below", "above"};
    if (pull->kind == HF_PULL_NONE) {
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
            hf_python_text(&w->text, specimen->id);
            hf_text_add(&w->text, ": {\"break\": ");
            add_interval(w, &specimen->pull);
            if (specimen->set.kind != HF_PULL_NONE) {
                hf_text_add(&w->text, ", \"set\": ");
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
    const hf_json *assess = result_json(w, &hf_report_assess, w->notebook->assessment);
    const hf_json *designs = assess ? hf_json_get(assess, "designs") : NULL;
    hf_text_add(&w->text, "What Holdfast printed, at nine figures: strengths of the pulls, fits and bounds, "
                          "and the comparison. "
                          "The cells below try to disagree with it.\n");
    hf_notebook_end_markdown(w);
    add_intervals(w, w->notebook->campaign);
    hf_text_add(&w->text, "DESIGNS = ");
    if (designs) hf_python_value(&w->text, designs, &assessed, 0);
    hf_text_add(&w->text, "\nRESULTS = {design[\"id\"]: design for design in DESIGNS}\nCOMPARISON = ");
    const hf_json *compare =
        w->notebook->comparison ? result_json(w, &hf_report_compare, w->notebook->comparison) : NULL;
    if (compare)
        hf_python_value(&w->text, compare, &compared, 0);
    else
        hf_text_add(&w->text, "None");
    hf_text_add(&w->text, "\n");
    hf_notebook_end_code(w, true);
}

/* --- Results and pictures ---------------------------------------------------------------------------- */

/* The charts of these kinds, as far as they exist and have something to show, as one cell. */
static void add_pictures(hf_notebook_writer *w, const char *const *kinds, const hf_chart_subject *subject,
                         size_t number) {
    hf_picture pictures[PICTURES];
    hf_text drawings[PICTURES] = {{0}};
    size_t count = 0;
    for (; *kinds && count < PICTURES; kinds++) {
        const hf_chart_kind *kind = hf_chart_kind_find(*kinds);
        if (!kind || kind->needs_plan || kind->needs_curve) continue;
        if (kind->needs_probability && !subject->probability) continue;
        hf_error why;
        hf_status status = hf_chart_draw(kind, subject, w->style, &drawings[count], &why);
        if (status == HF_MEMORY) fail(w, status);
        if (status != HF_OK) continue;
        const char *name = hf_arena_format(w->arena, "%s-%zu.svg", kind->name, number);
        pictures[count] =
            (hf_picture){name ? name : "picture.svg", drawings[count].bytes, drawings[count].length};
        hf_text_addf(&w->text, "![%s](attachment:%s)\n\n", kind->summary, pictures[count].name);
        count++;
    }
    if (count) hf_cell_pictures(&w->cells, w->text.bytes, pictures, count);
    hf_text_free(&w->text);
    for (size_t i = 0; i < PICTURES; i++) hf_text_free(&drawings[i]);
}

void hf_notebook_design(hf_notebook_writer *w, size_t at) {
    static const char *const kinds[] = {"pulls", "steps", "probability", NULL};
    const hf_notebook *notebook = w->notebook;
    const hf_design_assessment *design = &notebook->assessment->designs[at];
    hf_document document = design_document(w, at);
    add_named_heading(w, "## Results: ", hf_design_name(&document, design->design));
    if (document.first) hf_notebook_add_blocks(&w->text, document.first->next, end_of_results(&document));
    hf_notebook_end_markdown(w);
    hf_chart_subject subject = {
        .design = design, .comparison = notebook->comparison, .probability = notebook->probability[at]};
    add_pictures(w, kinds, &subject, at + 1);
    hf_text_addf(&w->text, "check_design(CAMPAIGN[\"designs\"][%zu])\n", at);
    hf_notebook_end_code(w, false);
}

void hf_notebook_comparison(hf_notebook_writer *w) {
    static const char *const kinds[] = {"ratios", "league", "modes", NULL};
    hf_document document = new_document(w);
    hf_report_compare.document(w->notebook->comparison, &document);
    hf_text_add(&w->text, "## Results: the comparison\n\n");
    if (document.first) hf_notebook_add_blocks(&w->text, document.first->next, end_of_results(&document));
    hf_notebook_end_markdown(w);
    const hf_chart_subject subject = {.comparison = w->notebook->comparison};
    add_pictures(w, kinds, &subject, 0);
    hf_text_add(&w->text, "check_comparison(COMPARISON)\n");
    hf_notebook_end_code(w, false);
}

/* --- To repeat --------------------------------------------------------------------------------------- */

/* A word of a command line as a shell takes it, safe in Markdown. */
static void add_word(hf_notebook_writer *w, const char *word) {
    static const char plain[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_./-";
    hf_text quoted = {0};
    bool simple = word[0] && strspn(word, plain) == strlen(word);
    if (!simple) hf_text_add(&quoted, "'");
    for (const char *at = word; *at; at++) {
        if (*at == '\'')
            hf_text_add(&quoted, "'\\''");
        else
            hf_text_add_bytes(&quoted, at, 1);
    }
    if (!simple) hf_text_add(&quoted, "'");
    hf_notebook_add_text(&w->text, quoted.bytes ? quoted.bytes : "");
    hf_text_free(&quoted);
}

void hf_notebook_repeat(hf_notebook_writer *w) {
    const hf_campaign *campaign = w->notebook->campaign;
    unsigned long long seed = w->notebook->assessment->options.seed;
    hf_text_addf(&w->text,
                 "## To repeat\n\nHoldfast %s, input SHA-256 %s, seed %llu:\n\n<code>holdfast notebook ",
                 HF_VERSION, campaign->sha256, seed);
    add_word(w, campaign->file);
    if (w->style->unit != campaign->unit) hf_text_addf(&w->text, " &#45;&#45;unit %s", w->style->unit->name);
    if (seed != 1) hf_text_addf(&w->text, " &#45;&#45;seed %llu", seed);
    hf_text_add(&w->text, " -o notebook.ipynb</code>\n\nThe same file, version and seed give the same "
                          "notebook, byte for byte.\n");
    hf_notebook_end_markdown(w);
}
