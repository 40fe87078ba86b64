/* The assessment in reading order: answer, sum, tables, trade rules, cautions, limits, how to repeat. */
#include <math.h>
#include <string.h>
#include "base/version_number.h"
#include "words/compare_report.h"
#include "words/assess_words.h"
#include "words/json_fields.h"

/* --- Everything about one design --------------------------------------------------------------------- */

static void add_event(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e,
                      const char *heading) {
    if (hf_has_sum(e)) {
        hf_document_add(d, HF_BLOCK_HEADING, heading);
        hf_sum_lines(a, e, d);
    }
    hf_document_add(d, HF_BLOCK_HEADING, "The pulls");
    hf_counts_words(d, a, e);
    hf_bounds_table(d, e);
    hf_fits_table(d, e);
}

static void add_set(hf_document *d, const hf_design_assessment *a) {
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s, first movement (set)", hf_design_name(d, a->design));
    if (!a->set_event.governing) hf_assess_why_not(d, &a->set_event);
    add_event(d, a, &a->set_event, "The sum for first movement");
}

static void add_design(hf_document *d, const hf_design_assessment *a) {
    hf_assess_answer(d, a);
    add_event(d, a, &a->break_event, "The sum");
    hf_earlier_table(d, &a->design->scatter);
    if (a->two_ended) hf_ends_table(d, a->design, &a->ends);
    if (a->set_watched) add_set(d, a);
    hf_promises_table(d, a);
    hf_trade_table(d, a);
    if (!a->cautions.count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions");
    hf_document_cautions(d, &a->cautions, "");
}

static void add_limits(hf_document *d, const char *last) {
    hf_document_add(d, HF_BLOCK_HEADING, "Limits");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Holds for new parts made, aged and pulled as tested, for short loads; statistics do not "
                    "see defects of another kind.");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Not for lifting or holding people, climbing, fall arrest, overhead loads, aircraft, "
                    "restraint in vehicles, pressure, or "
                    "anything under a code or law without a competent, licensed person. Local codes win.");
    hf_document_add(d, HF_BLOCK_ITEM, last);
}

void hf_limits(hf_document *d) {
    add_limits(d, "The design factor is your decision. Destroy the parts that were pulled.");
}

void hf_short_limits(hf_document *d) {
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "For new parts as tested, under short loads. Not for lifting or holding people, climbing, fall "
        "arrest or loads over heads; local codes win.");
}

void hf_repeat_line(hf_document *d, const hf_campaign *campaign, uint64_t seed) {
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Holdfast %s, input SHA-256 %.16s…, seed %llu.", HF_VERSION,
                     campaign->sha256, (unsigned long long)seed);
}

void hf_assess_limits(hf_document *d, const hf_assessment *result) {
    for (size_t i = 0; i < result->count; i++)
        if (isfinite(result->designs[i].working_load)) {
            add_limits(d, "The design factor is your decision. Destroy the parts that were pulled, and every "
                          "other that was loaded beyond the working load.");
            return;
        }
    hf_limits(d);
}

static void assess_document(const void *shown, hf_document *d) {
    const hf_assessment *result = shown;
    const hf_campaign *campaign = result->campaign;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    for (size_t i = 0; i < result->count; i++) add_design(d, &result->designs[i]);
    if (result->cautions.count) {
        hf_document_add(d, HF_BLOCK_HEADING, "Cautions about the whole file");
        hf_document_cautions(d, &result->cautions, "");
    }
    hf_assess_limits(d, result);
    hf_document_add(d, HF_BLOCK_HEADING, "To repeat");
    hf_repeat_line(d, campaign, result->options.seed);
}

const hf_report_kind hf_report_assess = {"assess", assess_document, &hf_json_assess};
