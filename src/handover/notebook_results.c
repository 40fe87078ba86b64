/* The cells of a notebook that depend on the campaign. Their words are those of the other reports. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "holdfast/base/number.h"
#include "holdfast/chart/chart.h"
#include "words/json_report.h"
#include "handover/notebook_parts.h"

enum {
    PICTURES = 4,
    PICTURE_MOST = 660, /* pixels of height: with a low picture above it still one page */
    FEW_DESIGNS = 4,    /* answers that leave room for the contents on the first screen */
    INFO_MOST = 8,      /* pairs of the file's info on it */
    INFO_COLUMNS = 400
};

void *hf_notebook_fail(hf_notebook_writer *w, hf_status status) {
    if (w->status == HF_OK) w->status = hf_error_set(w->error, status, "%s", hf_status_text(status));
    return NULL;
}

static hf_document new_document(const hf_notebook_writer *w) {
    return hf_document_for(w->arena, w->style);
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
    *one = *w->study->assessment;
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

/* The sentence that answers, then in one paragraph what it rests on and whether it meets what was asked. */
static void add_answer(hf_notebook_writer *w, size_t at) {
    const hf_design_assessment *design = &w->study->assessment->designs[at];
    const hf_cautions *cautions = &design->cautions;
    hf_document document = new_document(w);
    hf_assess_answer(&document, design);
    hf_block *reason = document.first ? document.first->next : NULL;
    hf_notebook_add_blocks(&w->text, 2, document.first, reason);
    for (const hf_block *block = reason; block; block = block->next) {
        hf_notebook_add_text(&w->text, block->text);
        hf_text_add(&w->text, block->next || cautions->count ? " " : "");
    }
    for (size_t i = 0; i < cautions->count; i++) {
        hf_text_add(&w->text, i ? "; " : "<strong>Cautions</strong>, told with the results: ");
        hf_notebook_add_text(&w->text, hf_caution_row_of(cautions->items[i].code)->title);
    }
    hf_text_add(&w->text, cautions->count ? ".\n\n" : "\n\n");
}

/* Where the data come from, in the words of the file. */
static void add_source(hf_document *document, const hf_info *info) {
    if (info->count) hf_document_add(document, HF_BLOCK_HEADING, "About the data, as the file has it");
    for (size_t i = 0; i < info->count && i < INFO_MOST; i++)
        hf_document_addf(document, HF_BLOCK_ITEM, "%s: %s",
                         hf_cut_text(document, info->pairs[i].key, HF_NAME_COLUMNS),
                         hf_cut_text(document, info->pairs[i].value, INFO_COLUMNS));
}

/* Headings become targets under their own words, blanks as hyphens, in every reader; so these are fixed words. */
static const char contents[] =
    "In this notebook: [limits](#Limits) · [results and charts](#Results) · [the data](#The-data) · "
    "[everything computed again](#Computed-again) · [to repeat](#To-repeat). Reading needs no running.\n";

void hf_notebook_title(hf_notebook_writer *w) {
    const hf_campaign *campaign = w->study->campaign;
    hf_document title = new_document(w), limits = new_document(w);
    hf_document_add(&title, HF_BLOCK_TITLE, campaign->title[0] ? campaign->title : campaign->file);
    hf_notebook_add_blocks(&w->text, 2, title.first, NULL);
    bool many = w->study->assessment->count > FEW_DESIGNS;
    if (many) hf_text_add(&w->text, contents);
    if (many) hf_text_add(&w->text, "\n");
    for (size_t i = 0; i < w->study->assessment->count; i++) add_answer(w, i);
    if (!many) hf_text_add(&w->text, contents);
    hf_notebook_end_markdown(w);
    hf_limits(&limits);
    if (w->study->assessment->cautions.count) {
        hf_document_add(&limits, HF_BLOCK_HEADING, "Cautions about the whole file");
        hf_document_cautions(&limits, &w->study->assessment->cautions, "");
    }
    add_source(&limits, &campaign->info);
    hf_notebook_add_blocks(&w->text, 2, limits.first, NULL);
    hf_notebook_end_markdown(w);
}

void hf_notebook_data(hf_notebook_writer *w) {
    hf_document document = new_document(w);
    const hf_check_result check = {.campaign = w->study->campaign, .findings = w->study->findings};
    hf_report_check.document(&check, &document);
    hf_text_add(&w->text, "## The data\n\n");
    hf_notebook_add_blocks(&w->text, 3, document.first ? document.first->next : NULL, NULL);
    hf_notebook_end_markdown(w);
}

/* --- Results and pictures ---------------------------------------------------------------------------- */

#define WIDTH " width=\""
#define HEIGHT " height=\""

/* A number in the opening tag of a drawing; *end: behind its quote. NAN where it is not. */
static double attribute(const char *svg, const char *name, const char **end) {
    const char *at = strstr(svg, name), *tag = strchr(svg, '>');
    double value = NAN;
    if (!at || !tag || at > tag) return NAN;
    at += strlen(name);
    size_t length = strcspn(at, "\"");
    if (!hf_number_read(at, length, &value)) return NAN;
    *end = at + length;
    return value;
}

/* A reader of notebooks shows a picture in the size that it states. A tall one states less, or pages before it stay empty on paper. */
static void limit_height(hf_text *svg) {
    const char *after_width = NULL, *after_height = NULL;
    double width = attribute(svg->bytes, WIDTH, &after_width),
           height = attribute(svg->bytes, HEIGHT, &after_height);
    if (!(height > PICTURE_MOST) || !(width > 0)) return;
    hf_text out = {0};
    hf_text_add_bytes(&out, svg->bytes, (size_t)(strstr(svg->bytes, WIDTH) - svg->bytes));
    hf_text_addf(&out, WIDTH "%.0f\"" HEIGHT "%d", width * PICTURE_MOST / height, PICTURE_MOST);
    hf_text_add(&out, after_height);
    hf_text_free(svg);
    *svg = out;
}

/* The charts of these kinds, as far as they exist and have something to show, as one cell. */
static void add_pictures(hf_notebook_writer *w, const char *const *kinds, const hf_chart_subject *subject,
                         size_t number) {
    hf_picture pictures[PICTURES];
    hf_text drawings[PICTURES] = {{0}};
    size_t count = 0;
    for (; *kinds && count < PICTURES; kinds++) {
        const hf_chart_kind *kind = hf_chart_kind_find(*kinds);
        if (!kind || !hf_chart_can_draw(kind, subject)) continue;
        hf_error why;
        hf_status status = hf_chart_draw(kind, subject, w->style, &drawings[count], &why);
        if (status == HF_MEMORY) hf_notebook_fail(w, status);
        if (status != HF_OK) continue;
        limit_height(&drawings[count]);
        if (drawings[count].failed) hf_notebook_fail(w, HF_MEMORY);
        const char *name = hf_arena_format(w->arena, "%s-%zu.svg", kind->name, number);
        pictures[count] =
            (hf_picture){name ? name : "picture.svg", drawings[count].bytes, drawings[count].length};
        hf_text_addf(&w->text, "![%s](attachment:%s)\n\n", kind->summary, pictures[count].name);
        count++;
    }
    if (count) hf_cell_pictures(&w->cells, w->text.bytes ? w->text.bytes : "", pictures, count);
    hf_text_free(&w->text);
    for (size_t i = 0; i < PICTURES; i++) hf_text_free(&drawings[i]);
}

/* A result in three cells: the answer and what it rests on, up to the block `rest`; the charts; tables and cautions. */
static void add_result(hf_notebook_writer *w, const hf_document *document, const hf_block *rest,
                       const char *const *kinds, const hf_chart_subject *subject, size_t number) {
    if (document->first) hf_notebook_add_blocks(&w->text, 4, document->first->next, rest);
    hf_notebook_end_markdown(w);
    add_pictures(w, kinds, subject, number);
    const hf_block *end = end_of_results(document);
    if (!rest || rest == end) return;
    hf_notebook_add_blocks(&w->text, 4, rest, end);
    hf_notebook_end_markdown(w);
}

static void add_design(hf_notebook_writer *w, size_t at) {
    static const char *const kinds[] = {"pulls", "steps", "probability", NULL};
    const hf_study *study = w->study;
    const hf_design_assessment *design = &study->assessment->designs[at];
    hf_document document = design_document(w, at);
    const hf_block *rest = document.first;
    while (rest && !is_heading(rest, "The pulls") && !is_heading(rest, "Limits")) rest = rest->next;
    add_named_heading(w, "### ", hf_design_name(&document, design->design));
    hf_chart_subject subject = {
        .design = design, .comparison = study->comparison, .probability = study->designs[at].probability};
    add_result(w, &document, rest, kinds, &subject, at + 1);
}

static void add_comparison(hf_notebook_writer *w) {
    static const char *const kinds[] = {"ratios", "league", "modes", NULL};
    hf_document document = new_document(w);
    hf_report_compare.document(w->study->comparison, &document);
    const hf_block *rest = document.first;
    while (rest && rest->kind != HF_BLOCK_HEADING) rest = rest->next;
    hf_text_add(&w->text, "### The designs compared\n\n");
    if (w->study->comparison->options.verdicts_only)
        hf_text_add(
            &w->text,
            "With so many pairs of designs this large, what only stands beside the verdicts is left out: "
            "relabeling, the weak parts, which outlasts which.\n\n");
    const hf_chart_subject subject = {.comparison = w->study->comparison};
    add_result(w, &document, rest, kinds, &subject, 0);
}

void hf_notebook_results(hf_notebook_writer *w) {
    hf_text_addf(
        &w->text,
        "## Results\n\n%s are Holdfast's numbers; [further down](#Computed-again) they are computed again.\n",
        hf_notebook_compares(w) ? "Each design for itself, then the comparison. These" : "These");
    hf_notebook_end_markdown(w);
    for (size_t i = 0; i < w->study->assessment->count; i++) add_design(w, i);
    if (hf_notebook_compares(w)) add_comparison(w);
}

/* --- To repeat --------------------------------------------------------------------------------------- */

void hf_notebook_repeat(hf_notebook_writer *w) {
    const hf_study *study = w->study;
    hf_text_addf(&w->text, "## To repeat\n\nHoldfast %s, input SHA-256 %s, seed %llu:\n\n<code>", HF_VERSION,
                 study->campaign->sha256, (unsigned long long)study->assessment->options.seed);
    hf_notebook_add_text(&w->text, study->options.command);
    hf_text_add(&w->text,
                "</code>\n\nThe same file, version and seed give the same notebook, byte for byte.\n");
    hf_notebook_end_markdown(w);
}
