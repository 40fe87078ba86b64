/* The short answer: a line for each design, best first, then the sum of each and its cautions by name. The whole is assess_document.c. */
#include "words/assess_words.h"
#include "words/glance.h"
#include "words/json_fields.h"

/* Why there is no more than that, where the line of the design does not say it whole. */
static void say_rest(hf_document *d, const hf_design_assessment *a) {
    if (a->answer.verdict == HF_ANSWER_BOUND_ONLY)
        hf_document_add(d, HF_BLOCK_PARAGRAPH, hf_missing_words(a->working_load_reason));
    if (a->two_ended) hf_assess_one_fitting(d, a);
    if (a->promise.looks.plan.given) hf_looks_words(d, a);
}

/* "8 parts, 5 failed; Weibull law": what the sum below it rests on. */
static const char *counted(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = hf_answering_event(a);
    const hf_bound *bound = e->governing;
    const char *law = bound->method == HF_BOUND_BATCH       ? "from the means of the batches"
                      : bound->method == HF_BOUND_ONE_BATCH ? "another batch counted as stated"
                                                            : "no law assumed";
    if (bound->family) law = hf_arena_format(d->arena, "%s law", bound->family->label);
    const char *words = hf_arena_format(d->arena, "%zu %s%s, %zu %s; %s%s", e->counts.used,
                                        a->two_ended ? "fitting" : "part", e->counts.used == 1 ? "" : "s",
                                        e->counts.failed, a->answer.of_set ? "moved" : "failed",
                                        law ? law : "", hf_governing_rejected(e) ? " (rejected)" : "");
    return words ? words : "";
}

static void add_design(hf_document *d, const hf_glance *g, bool alone) {
    const hf_design_assessment *a = g->design;
    if (a->answer.verdict <= HF_ANSWER_NOT_ASSURED)
        hf_assess_lead(d, a);
    else
        hf_document_addf(d, HF_BLOCK_HEADING, "%s: %s", g->name, counted(d, a));
    hf_sum_bare(a, hf_answering_event(a), d);
    say_rest(d, a);
    if (a->cautions.count)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s: %s.", a->cautions.count == 1 ? "Caution" : "Cautions",
                         hf_caution_names(d, &a->cautions));
    if (alone || g->tone == HF_TONE_BAD) hf_assess_next(d, a);
}

/* What every sum has in common. */
static void add_legend(hf_document *d, const hf_assessment *result) {
    const hf_design_assessment *first = &result->designs[0];
    bool alike = true;
    for (size_t i = 1; i < result->count; i++)
        alike &= result->designs[i].content == first->content &&
                 result->designs[i].confidence == first->confidence;
    const char *promise = "so many of all parts as is asked of its design";
    if (alike)
        promise = hf_arena_format(d->arena, "at least %s of all parts made and pulled like these",
                                  hf_show_text(d, HF_AS_SHARE_STATED, first->content));
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "The bound is the load that %s carry%s%s%s. What each number is, tables, rules of the trade and "
        "the cautions in words: --full.",
        promise ? promise : "", alike ? ", with " : "",
        alike ? hf_show_text(d, HF_AS_SHARE_STATED, first->confidence) : "", alike ? " confidence" : "");
}

static bool any_sum(const hf_assessment *result) {
    for (size_t i = 0; i < result->count; i++)
        if (hf_has_sum(hf_answering_event(&result->designs[i]))) return true;
    return false;
}

static void add_strips(hf_document *d, const hf_glance *glances, size_t count) {
    const hf_design_assessment **designs = HF_ARENA_NEW_ARRAY(d->arena, const hf_design_assessment *, count);
    for (size_t i = 0; designs && i < count; i++) designs[i] = glances[i].design;
    if (designs) hf_strip_lines(d, designs, count);
}

static void short_document(const void *shown, hf_document *d) {
    const hf_assessment *result = shown;
    const hf_campaign *campaign = result->campaign;
    const hf_glance *glances = hf_glance_of(d, result);
    hf_document_add(d, HF_BLOCK_TITLE, campaign->title[0] ? campaign->title : campaign->file);
    if (!glances || !result->count) return;
    hf_glance_table(d, glances, result->count);
    add_strips(d, glances, result->count);
    for (size_t i = 0; i < result->count; i++) add_design(d, &glances[i], result->count == 1);
    hf_document_add(d, HF_BLOCK_HEADING, "How to read it");
    if (any_sum(result)) add_legend(d, result);
    hf_glance_picked(d, result);
    if (result->cautions.count)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "About the whole file: %s.",
                         hf_caution_names(d, &result->cautions));
    hf_short_limits(d);
    hf_repeat_line(d, campaign, result->options.seed);
}

const hf_report_kind hf_report_assess_short = {"assess", short_document, &hf_json_assess};
