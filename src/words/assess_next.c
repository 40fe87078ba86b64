/* What was asked of a design and whether it is met, and what to do next: as the answer says. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"

/* The law of the bound that leads, or would without batches. */
static const hf_family *law_of(const hf_event_assessment *e) {
    return (e->without_batches ? e->without_batches : e->governing)->family;
}

static const char *things(const hf_design_assessment *a) {
    return a->two_ended ? "fittings" : "parts";
}

/* --- What was asked ---------------------------------------------------------------------------------- */

/* "met", "met, if the scatter really is 5 %", "NOT met", "NOT met while this is not settled: above all the weights". `yes`: the bare word. */
static const char *met_words(hf_document *d, const hf_design_assessment *a, hf_met met, bool enough,
                             const char *yes) {
    const char *broken = hf_broken_by(d, a), *words = yes;
    if (met == HF_MET_IF) words = hf_arena_format(d->arena, "%s, if %s", yes, hf_hangs_on(d, a, true));
    if (met == HF_NOT_MET) words = hf_arena_format(d->arena, "NOT %s", yes);
    if (met == HF_NOT_MET && enough && broken[0])
        words = hf_arena_format(d->arena, "NOT %s while this is not settled: %s", yes, broken);
    return words ? words : yes;
}

void hf_assess_required(hf_document *d, const hf_design_assessment *a) {
    double required = a->design->goal.required_bound.value, calibrated = a->break_event.calibrated;
    const char *stated = hf_show_text(d, HF_AS_STATED, required);
    if (a->break_event.not_assured) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, no bound is assured.", stated);
        return;
    }
    if (!isfinite(calibrated)) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, there is no bound.", stated);
        return;
    }
    if (calibrated <= 0) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: NOT met, there is no bound above 0.",
                         stated);
        return;
    }
    bool enough = calibrated >= required;
    /* Rounded down with its sign: less to spare, more that is short. */
    const char *difference = hf_show_text(d, HF_AS_RATING, calibrated - required), *minus = "−";
    if (strncmp(difference, minus, strlen(minus)) == 0) difference += strlen(minus);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required bound %s: %s; %s after the rig's load error, %s %s.",
                     stated, met_words(d, a, a->answer.required, enough, "met"), hf_bound_load(d, calibrated),
                     difference, enough ? "to spare" : "short");
}

/* No test of a law reaches so far into its tail that more could be said. */
static const double most_said = 0.999;

static void say_supported(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = &a->break_event;
    const char *at = hf_show_text(d, HF_AS_STATED, a->supported_load);
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
        "the %s law%s%s.",
        nearly_all ? "More than" : "At least",
        hf_show_text(d, HF_AS_SHARE_KEPT, nearly_all ? most_said : a->supported_content), things(a), at,
        hf_show_text(d, HF_AS_SHARE_STATED, a->confidence), law_of(e)->label,
        isfinite(e->batch_bound.value) ? ", counting what another batch may bring" : "",
        hf_governing_rejected(e) ? ", which these pulls reject" : "");
}

void hf_assess_service(hf_document *d, const hf_design_assessment *a) {
    const char *stated = hf_show_text(d, HF_AS_STATED, a->design->goal.service_load.value);
    if (isfinite(a->margin))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Service load %s: %s; margin %s (working load ÷ service load − 1).", stated,
                         met_words(d, a, a->answer.service, a->margin >= 0, "covered"),
                         hf_show_text(d, HF_AS_SHARE_KEPT, a->margin));
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Service load %s: NOT covered, there is no working load to judge it by.", stated);
    if (a->answer.verdict >= HF_ANSWER_BOUND_ONLY && a->break_event.governing && law_of(&a->break_event) &&
        isfinite(a->supported_load))
        say_supported(d, a);
}

/* --- What to do next --------------------------------------------------------------------------------- */

/* In the order of HF_NEXT_LIST; NULL: the answer itself has said it. */
static const char *const next_words[] = {
    [HF_NEXT_CHECK_LOADS] = "check the loads that the rig or its weights cannot have made: a slip of the pen "
                            "becomes a working load.",
    [HF_NEXT_NOT_AT_SERVICE_LOAD] =
        "do not use it at the service load; choose a stronger design or a smaller load, or pull more parts.",
    [HF_NEXT_STRONGER_OR_MORE] =
        "choose a stronger design, or pull more parts: the bound rises with their number.",
    [HF_NEXT_FIND_WEAK_BATCH_FIRST] =
        "find out which batch is weak and why, and rate each by itself: mixed batches may be why the "
        "pulls do not follow the law.",
    [HF_NEXT_FIND_WHY_LAW_FAILS] =
        "find out why the pulls do not follow the law (mixed batches, different ways of failing, a slip of "
        "the pen) before anything is loaded.",
    [HF_NEXT_PULL_MORE] = "pull more parts; five give a useful bound.",
    [HF_NEXT_FIND_WEAK_BATCH] = "find out which batch is weak and why, before parts of it are used.",
    [HF_NEXT_STATE_BATCHES] = "state the batches of the parts in the file; if all are of one, pull parts of "
                              "a second and third: the next "
                              "may be weaker.",
    [HF_NEXT_STATE_ALL_BATCHES] =
        "state the batch of every part in the file; one is named so far, and the next may be weaker.",
    [HF_NEXT_PULL_BATCHES] = "pull parts of a second and third batch; the next may be weaker.",
    [HF_NEXT_SETTLE_CAUTIONS] =
        "settle the cautions; then mark the parts in use with this load, and destroy those that were pulled.",
    [HF_NEXT_MARK_PARTS] = "mark the parts in use with this load, and destroy those that were pulled.",
    [HF_NEXT_COUNT] = NULL};

void hf_assess_next(hf_document *d, const hf_design_assessment *a) {
    const char *words = next_words[a->answer.next];
    if (a->answer.next == HF_NEXT_PULL_TO_LOOK)
        words = hf_arena_format(d->arena, "pull on to the next stated look, after %zu parts.",
                                a->promise.looks.next);
    const char *cost = hf_next_is_more(a->answer.next) ? hf_going_on_words(d, a) : "";
    if (words) hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Next: %s%s", words, cost);
}
