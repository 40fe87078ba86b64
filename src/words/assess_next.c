/* What was asked of a design and whether it is met, and what to do next. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"

static const char *things(const hf_design_assessment *a) {
    return a->two_ended ? "fittings" : "parts";
}

/* --- What was asked ---------------------------------------------------------------------------------- */

/* A verdict by a law that does not fit must say so. */
static const char *by_rejected_law(const hf_event_assessment *e) {
    return hf_governing_rejected(e) ? " This leans on a law that these pulls reject." : "";
}

void hf_assess_required(hf_document *d, const hf_design_assessment *a) {
    double required = a->design->goal.required_bound.value, calibrated = a->break_event.calibrated;
    const char *stated = hf_load_stated(d, required);
    if (!isfinite(calibrated)) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, there is no bound.", stated);
        return;
    }
    if (calibrated <= 0) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, there is no bound above 0.",
                         stated);
        return;
    }
    /* Rounded down with its sign: less to spare, more that is short. */
    const char *difference = hf_load_down(d, calibrated - required, 3), *minus = "−";
    if (strncmp(difference, minus, strlen(minus)) == 0) difference += strlen(minus);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: %s; %s after the rig's load error, %s %s.%s",
                     stated, a->required_met ? "met" : "NOT met", hf_bound_load(d, calibrated), difference,
                     a->required_met ? "to spare" : "short", by_rejected_law(&a->break_event));
}

/* No test of a law reaches so far into its tail that more could be said. */
static const double most_said = 0.999;

static void say_supported(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = &a->break_event;
    const char *at = hf_load_stated(d, a->supported_load);
    if (!isfinite(a->supported_content)) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "How many %s carry %s (service load × stated factors) these pulls cannot say: fewer "
                         "than the method is proven for.",
                         things(a), at);
        return;
    }
    bool nearly_all = a->supported_content > most_said;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%s %s of all %s carry %s (service load × stated factors), with %s confidence, if strength follows "
        "the %s law%s.",
        nearly_all ? "More than" : "At least",
        hf_percent_down(d, nearly_all ? most_said : a->supported_content, 3), things(a), at,
        hf_percent_text(d, a->confidence, 5), e->governing->family ? e->governing->family->label : "fitted",
        hf_governing_rejected(e) ? ", which these pulls reject" : "");
}

void hf_assess_service(hf_document *d, const hf_design_assessment *a) {
    const char *stated = hf_load_stated(d, a->design->goal.service_load.value);
    if (isfinite(a->margin))
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH, "Service load %s: %s, margin %s (working load ÷ service load − 1).%s%s",
            stated, a->margin_met ? "covered" : "NOT covered", hf_percent_down(d, a->margin, 3),
            by_rejected_law(hf_answering_event(a)),
            a->margin_met && hf_cautions_have(&a->cautions, HF_CAUTION_MODES_NOT_COVERING)
                ? " NOT covered where the ways of failing come in other shares: see the cautions."
                : "");
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Service load %s: %s, there is no working load to judge it by.", stated,
                         a->margin_met ? "not judged" : "NOT covered");
    if (a->break_event.governing && isfinite(a->supported_load)) say_supported(d, a);
}

/* --- What to do next --------------------------------------------------------------------------------- */

enum { USEFUL_PARTS = 5 };

/* A caution that is not about how little is known, but about something to be mended or looked into. */
static bool to_be_settled(hf_caution_code code) {
    static const hf_caution_code known[] = {
        HF_CAUTION_FEW_PARTS,   HF_CAUTION_FAMILIES_DIFFER, HF_CAUTION_RUN_OUTS,
        HF_CAUTION_RIG_FAILURE, HF_CAUTION_PLANNED_LEFT,    HF_CAUTION_FEW_BATCHES,
        HF_CAUTION_COARSE_STEP, HF_CAUTION_STATED_SCATTER,  HF_CAUTION_ASSUMED_SCATTER,
        HF_CAUTION_TWO_ENDED,   HF_CAUTION_TWO_ENDED_SET,   HF_CAUTION_LOWEST_95_75};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (known[i] == code) return false;
    return true;
}

static bool any_to_be_settled(const hf_design_assessment *a) {
    for (size_t i = 0; i < a->cautions.count; i++)
        if (to_be_settled(a->cautions.items[i].code)) return true;
    return false;
}

static const char *batch_next(const hf_design_assessment *a) {
    size_t without, batches = hf_batches_stated(a->design, &without);
    if (!batches)
        return "Next: state the batches of the parts in the file; if all are of one, pull parts of a second "
               "and third: the next may be weaker.";
    if (without)
        return "Next: state the batch of every part in the file; one is named so far, and the next may be "
               "weaker.";
    return "Next: pull parts of a second and third batch; the next may be weaker.";
}

/* The one thing that most needs doing where there is a bound; what lacks is named by the answer already. */
static const char *next_words(const hf_design_assessment *a, const hf_event_assessment *e) {
    if (a->service_stated && !a->margin_met)
        return "Next: do not use it at the service load; choose a stronger design or a smaller load, or pull "
               "more parts.";
    if (a->required_stated && !a->required_met)
        return "Next: choose a stronger design, or pull more parts: the bound rises with their number.";
    if (hf_governing_rejected(e) && hf_cautions_have(&a->cautions, HF_CAUTION_BATCHES_DIFFER))
        return "Next: find out which batch is weak and why, and rate each by itself: mixed batches may be "
               "why "
               "the pulls do not follow the law.";
    if (hf_governing_rejected(e))
        return "Next: find out why the pulls do not follow the law (mixed batches, different ways of "
               "failing, a slip of the pen) before anything is loaded.";
    if (e->counts.used < USEFUL_PARTS) return "Next: pull more parts; five give a useful bound.";
    if (hf_cautions_have(&a->cautions, HF_CAUTION_BATCHES_DIFFER))
        return "Next: find out which batch is weak and why, before parts of it are used.";
    if (hf_cautions_have(&a->cautions, HF_CAUTION_ONE_BATCH)) return batch_next(a);
    if (!isfinite(a->working_load)) return "";
    return any_to_be_settled(a) ? "Next: settle the cautions; then mark the parts in use with this load, and "
                                  "destroy those that were pulled."
                                : "Next: mark the parts in use with this load, and destroy those that were "
                                  "pulled.";
}

void hf_assess_next(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = hf_answering_event(a);
    if (!e->governing || !(e->governing->value > 0) || !(e->calibrated > 0)) return;
    const char *words = next_words(a, e);
    if (words[0]) hf_document_add(d, HF_BLOCK_PARAGRAPH, words);
}
