/* The answer of one design, with its reason. */
#include <ctype.h>
#include <math.h>
#include <string.h>
#include "words/assess_words.h"

const hf_event_assessment *hf_answering_event(const hf_design_assessment *a) {
    return a->answer.of_set ? &a->set_event : &a->break_event;
}

/* --- No bound: why, and what to do ------------------------------------------------------------------- */

static const char *next_step(hf_bound_reason reason) {
    switch (reason) {
    case HF_REASON_OPEN_OBSERVATIONS:
        return "pull more parts until they fail, with more weight or from a lighter start.";
    case HF_REASON_TOO_FEW:
        return "pull more parts until they fail: two failures give a first bound, five a useful one.";
    case HF_REASON_MORE_PARTS:
        return "pull more parts.";
    case HF_REASON_STEP_RANGE:
        return "ask for a content of 90 % or more, or read the load continuously.";
    case HF_REASON_ONE_STEP_AND_BELOW:
        return "start lighter and take finer steps where the parts fail.";
    case HF_REASON_RANGE:
        return "ask for a content and a confidence between 50 % and 100 %.";
    case HF_REASON_ONE_VALUE:
        return "state the resolution of the scale, or pull more parts.";
    case HF_REASON_FACTOR_UNKNOWN:
        return "ask for less confidence, or state another law.";
    case HF_REASON_NUMERIC:
        return "report this with the file.";
    case HF_REASON_LAW_NOT_PROVEN:
    case HF_REASON_TABLE_ENDS:
    case HF_REASON_NONE:
        break;
    }
    return "";
}

/* The refused bound that would have governed: that of the law by rule, else the first without a value. */
static const hf_bound *refused_bound(const hf_event_assessment *e) {
    const hf_bound *found = NULL;
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        if (!b->family || b->method != HF_BOUND_NONE) continue;
        if (b->family == hf_family_governing(NULL)) return b;
        if (!found && hf_family_may_govern(b->family)) found = b;
    }
    return found;
}

void hf_assess_why_not(hf_document *d, const hf_event_assessment *e) {
    const hf_bound *refused = refused_bound(e);
    if (refused)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Why: %s.%s%s", hf_bound_reason_text(refused->reason),
                         next_step(refused->reason)[0] ? " Next: " : "", next_step(refused->reason));
    for (size_t i = 0; i < e->bound_count; i++) {
        const hf_bound *b = &e->bounds[i];
        if (b->family || b->method == HF_BOUND_NONE || hf_bound_counts_batches(b)) continue;
        if (b->method != HF_BOUND_SURVIVORS && !(b->value > 0)) continue;
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "What can be said without a strength law: with %s confidence at least %s of all "
                         "parts carry %s (both rounded down).",
                         hf_show_text(d, HF_AS_SHARE_STATED, b->confidence),
                         hf_show_text(d, HF_AS_SHARE_KEPT, b->content), hf_bound_load(d, b->value));
    }
}

/* --- Words ------------------------------------------------------------------------------------------- */

/* "these 10", "this one" */
static const char *these_parts(hf_document *d, size_t used) {
    const char *words = used == 1 ? "this one" : hf_arena_format(d->arena, "these %zu", used);
    return words ? words : "these";
}

/* "these 432 pulls", "this one pull" */
static const char *these_pulls(hf_document *d, size_t used) {
    const char *words = used == 1 ? "this one pull" : hf_arena_format(d->arena, "these %zu pulls", used);
    return words ? words : "these pulls";
}

/* The bound of two-ended parts is that of one fitting; first movement is the whole part's. */
static const char *things(const hf_design_assessment *a, bool set) {
    return a->two_ended && !set ? "fittings" : "parts";
}

void hf_assess_one_fitting(hf_document *d, const hf_design_assessment *a) {
    const hf_bound *two = &a->ends.rows[1];
    if (!a->break_event.governing) return;
    if (two->value > 0)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "That is for one fitting alone. A part with one at each end counts as two in a row: bound %s in "
            "place of %s.",
            hf_bound_load(d, two->value), hf_bound_load(d, a->break_event.governing->value));
    else
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "That is for one fitting alone. A part with one at each end is weaker; how much "
                        "these pulls cannot say.");
}

/* What is not seen in the pulls must not hide in a footnote. */
static void say_scatter(hf_document *d, const hf_design_assessment *a, const hf_bound *bound) {
    const hf_scatter *scatter = &a->design->scatter;
    if (bound->method != HF_BOUND_STATED_SCATTER) return;
    bool assumed = isinf(scatter->degrees_of_freedom);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The scatter is %s (source: %s); %s.%s",
                     assumed ? "ASSUMED" : "POOLED", scatter->source ? scatter->source : "not stated",
                     a->break_event.counts.used < 2 ? "one pull cannot contradict it"
                                                    : "these pulls do not contradict it, which is no proof",
                     assumed && a->break_event.step_rms > 0
                         ? " The bound counts each part with the load it held, which costs up to a step."
                         : "");
}

/* "At least 90 % of all parts made and pulled like these 10 carry 588.4 N" */
static const char *promise(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e,
                           const hf_bound *bound, const char *least) {
    bool set = e == &a->set_event;
    const char *words = hf_arena_format(
        d->arena, "%s %s of all %s made and pulled like %s %s %s", least,
        hf_show_text(d, HF_AS_SHARE_STATED, bound->content), things(a, set), these_parts(d, e->counts.used),
        set ? "keep their shape under" : "carry", hf_bound_load(d, bound->value));
    return words ? words : "?";
}

/* --- A law that the pulls speak against -------------------------------------------------------------- */

/* Belongs to the answer: what the rejected law gives, and why the number may stand all the same. */
static void say_rejected(hf_document *d, const hf_event_assessment *e) {
    if (!e->rejected_law || e->not_assured) return;
    const char *law = e->rejected_law->family->label;
    if (e->confirming)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "These pulls speak against the %s law; a bound that needs no such law, %s (%s), is no lower.",
            law, hf_bound_load(d, e->confirming->value), hf_whatever_law_words(e->confirming));
    else
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The %s law gives %s, but these pulls speak against that law%s, so the lower bound leads.", law,
            hf_bound_load(d, e->rejected_law->value),
            hf_all_laws_rejected(e) ? " (and against every other tried)" : "");
}

/* The lower of two leads; the other is told with it. */
static void say_batches(hf_document *d, const hf_event_assessment *e) {
    if (!e->without_batches) return;
    if (e->governing->method == HF_BOUND_ONE_BATCH) {
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The bound counts a scatter of %s between batches, which is stated and which these pulls do "
            "not show; without it it would be %s.",
            hf_show_text(d, HF_AS_SHARE, sqrt(expm1(e->between * e->between))),
            hf_bound_load(d, e->without_batches->value));
        return;
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "The bound rests on the means of the %zu batches, since the next batch may be weaker; counted "
        "as if all parts were of one it would be %s.",
        e->batch_bound.batches, hf_bound_load(d, e->without_batches->value));
}

static void answer_not_assured(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    if (e->governing_reason == HF_GOVERNS_SCATTER_NOT_ASSURED) {
        hf_document_addf(
            d, HF_BLOCK_ANSWER,
            "%s: no load is assured; the stated scatter gives %s, but these pulls contradict it.",
            hf_design_name(d, a->design), hf_bound_load(d, e->governing->value));
        hf_assess_why_not(d, e);
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER,
                     "%s: no load is assured; the %s law gives %s, but these pulls speak against that law.",
                     hf_design_name(d, a->design), e->governing->family->label,
                     hf_bound_load(d, e->governing->value));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%s pulls are too few for a bound that needs no law, so no working load is given.",
                     hf_all_laws_rejected(e) ? "They speak against every other law tried, too, and so many"
                                             : "So many");
}

/* --- On what it hangs -------------------------------------------------------------------------------- */

/* The condition that one caution makes; NULL: it makes none. */
static const char *condition(hf_document *d, const hf_design_assessment *a, const hf_caution *caution,
                             bool modes) {
    switch (caution->code) {
    case HF_CAUTION_ASSUMED_SCATTER:
        return hf_arena_format(d->arena, "the scatter really is %s",
                               hf_show_text(d, HF_AS_SHARE, caution->number[0]));
    case HF_CAUTION_STATED_SCATTER:
        return hf_arena_format(d->arena, "the scatter is %s as stated",
                               hf_show_text(d, HF_AS_SHARE, caution->number[0]));
    case HF_CAUTION_EARLIER_SCATTER:
        return hf_arena_format(d->arena, "it scatters like the %.0f earlier designs", caution->number[0]);
    case HF_CAUTION_LAW_CHOSEN:
    case HF_CAUTION_LAW_STATED:
        return hf_arena_format(d->arena, "strength follows the %s law", caution->text[0]);
    case HF_CAUTION_LEANS_ON_TAIL:
        return "strength follows one of the three laws";
    case HF_CAUTION_ABOVE_BROKEN_UNLIKELY:
        return hf_arena_format(d->arena, "%.0f parts that broke below the bound did so by chance",
                               caution->number[1]);
    case HF_CAUTION_LOOKS_NOT_STATED:
        return "no other look is taken at it";
    case HF_CAUTION_LOOKS_BEFORE_FIRST:
        return hf_arena_format(d->arena, "it still stands at the first stated look, after %.0f parts",
                               caution->number[1]);
    case HF_CAUTION_LOOKS_PAST_LAST:
        return "nobody would have stopped at an earlier look";
    case HF_CAUTION_LOOKS_UNPROVEN:
        return hf_arena_format(d->arena, "looks keep their promise with %s too", caution->text[0]);
    case HF_CAUTION_LOOKS_LATE:
        return "the looks were not chosen by how the pulls came out";
    case HF_CAUTION_STATED_LATE:
        return hf_arena_format(d->arena, "%s was not settled by how the pulls came out", caution->text[0]);
    case HF_CAUTION_LAW_UNLIKELY:
        return hf_arena_format(d->arena, "strength follows the %s law, which another fits far better",
                               caution->text[0]);
    case HF_CAUTION_MODES_NOT_COVERING:
        return modes ? "the ways of failing come in the same shares as here" : NULL;
    default:
        (void)a;
        return NULL;
    }
}

const char *hf_hangs_on(hf_document *d, const hf_design_assessment *a, bool modes) {
    const char *all = "";
    for (size_t i = 0; i < a->cautions.count; i++) {
        const char *one = condition(d, a, &a->cautions.items[i], modes);
        if (one) all = all[0] ? hf_arena_format(d->arena, "%s and %s", all, one) : one;
        if (!all) return "";
    }
    return all;
}

const char *hf_caution_said(hf_document *d, hf_caution_code code) {
    const char *title = hf_caution_row_of(code)->title,
               *words = hf_arena_format(d->arena, "%c%s", tolower((unsigned char)title[0]), title + 1);
    return words ? words : "";
}

const hf_caution *hf_worst_caution(const hf_design_assessment *a) {
    if (a->answer.worst_caution < 0) return NULL;
    const hf_caution *worst = &a->cautions.items[a->answer.worst_caution];
    return hf_caution_row_of(worst->code)->rank == HF_CAUTION_NOTES ? NULL : worst;
}

const char *hf_broken_by(hf_document *d, const hf_design_assessment *a) {
    const hf_cautions *list = &a->cautions;
    for (size_t i = 0; i < list->count; i++) {
        hf_caution_code code = list->items[i].code;
        bool outcome = code == HF_CAUTION_REQUIRED_NOT_MET || code == HF_CAUTION_SERVICE_NOT_MET;
        if (hf_caution_row_of(code)->rank == HF_CAUTION_BREAKS && !outcome) return hf_caution_said(d, code);
    }
    return "";
}

/* Loads that `record` would have asked about do not wait for the list of cautions. */
const char *hf_doubted(hf_document *d, const hf_design_assessment *a) {
    static const hf_caution_code slips[] = {HF_CAUTION_UNLIKE_DESIGN, HF_CAUTION_RUNGS_BETWEEN,
                                            HF_CAUTION_NOT_MAKEABLE};
    const char *words = "";
    for (size_t i = 0; words && i < sizeof slips / sizeof *slips; i++)
        if (hf_cautions_have(&a->cautions, slips[i]))
            words = hf_arena_format(d->arena, "%s%s%s", words,
                                    words[0] ? ", " : "check first: ", hf_caution_said(d, slips[i]));
    return words ? words : "";
}

/* "; note: few failures": what weighs most beside the number, where the headline has not said it already. */
static const char *noted(hf_document *d, const hf_design_assessment *a) {
    const char *doubts = hf_doubted(d, a), *words;
    const hf_caution *worst = hf_worst_caution(a);
    if (!doubts[0] && (!worst || condition(d, a, worst, false))) return "";
    words = doubts[0] ? hf_arena_format(d->arena, "; %s", doubts)
                      : hf_arena_format(d->arena, "; note: %s", hf_caution_said(d, worst->code));
    return words ? words : "";
}

/* --- The answer -------------------------------------------------------------------------------------- */

/* From the bound to the working load, in one sentence. */
static void say_way_down(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_goal *goal = &a->design->goal;
    bool set = a->answer.of_set;
    const char *whatever = e->rejected_law ? hf_whatever_law_words(e->governing) : "";
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%s (rounded down), with %s confidence%s%s; %s÷ %s (%s factor)%s and rounded down again, that is "
        "%s.%s",
        promise(d, a, e, e->governing, e->governing == e->rejected_law ? "By that law at least" : "At least"),
        hf_show_text(d, HF_AS_SHARE_STATED, a->confidence), whatever[0] ? ", " : "", whatever,
        e->calibration_u > 0 ? "less the rig's load error, " : "",
        hf_show_text(d, HF_AS_GIVEN, set ? goal->set_factor.value : goal->design_factor.value),
        set ? "set" : "design", goal->use_factor_count ? " and the stated factors of use" : "",
        hf_show_text(d, HF_AS_RATING, a->working_load_unrounded),
        set ? " First movement limits, not breaking." : "");
}

/* Never more cheerful than the worst caution: one that breaks the number comes before it, one that it hangs on with it. */
static void answer_working_load(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const char *name = hf_design_name(d, a->design),
               *load = hf_show_text(d, HF_AS_RATING, a->working_load_unrounded);
    const char *broken = hf_broken_by(d, a), *hangs = hf_hangs_on(d, a, false);
    if (broken[0])
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "%s: a working load of %s comes out, but do not use it before this is settled: %s.",
                         name, load, broken);
    else if (hangs[0])
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: work with at most %s, if %s%s.", name, load, hangs,
                         noted(d, a));
    else
        hf_document_addf(d, HF_BLOCK_ANSWER, "%s: work with at most %s%s.", name, load, noted(d, a));
    say_rejected(d, e);
    say_batches(d, e);
    say_scatter(d, a, e->governing);
    say_way_down(d, a, e);
}

const char *hf_missing_words(hf_no_load reason) {
    switch (reason) {
    case HF_NO_LOAD_NO_DESIGN_FACTOR:
        return "This is not yet a working load: for that, write into the file how many times stronger than "
               "the "
               "load the parts must be (design factor).";
    case HF_NO_LOAD_NOTHING_LEFT:
        return "The factors stated divide this bound to less than any load: no working load can be given.";
    case HF_NO_LOAD_BEFORE_FIRST_LOOK:
        return "This is not yet a working load: the first stated look is still to come.";
    case HF_NO_LOAD_NO_BOUND:
        return "No working load follows: there is no bound to find it from.";
    case HF_NO_LOAD_NONE:
    case HF_NO_LOAD_BOUND_NOT_POSITIVE:
    case HF_NO_LOAD_NOT_ASSURED:
        break;
    }
    return "No working load follows from it.";
}

/* Why nothing is known of those that failed first of all. */
static void say_why_nothing(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const hf_assess_counts *c = &e->counts;
    bool set = e == &a->set_event, unstated = hf_held_not_stated(a->design, set) >= c->below;
    if (!c->below)
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "Why: for so few pulls they scatter so much that the weakest parts may carry nothing.");
    else if (unstated)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Why: for %zu of %zu %s no load held before the %s is stated, so nothing shows what "
                         "they would have carried.",
                         c->below, c->used, things(a, set), set ? "first movement" : "failure");
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Why: %zu of %zu %s %s at the first load stated, so nothing shows what they would "
                         "have carried.",
                         c->below, c->used, things(a, set), set ? "moved" : "failed");
}

/* A limit of 0 or less says nothing a part could be used at: why it came to that, and what to do. */
static void answer_nothing_promised(hf_document *d, const hf_design_assessment *a,
                                    const hf_event_assessment *e) {
    bool set = e == &a->set_event;
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no safe load can be given; no %s above 0 comes out of %s.",
                     hf_design_name(d, a->design), set ? "bound without first movement" : "bound",
                     these_pulls(d, e->counts.used));
    say_why_nothing(d, a, e);
    if (e->rejected_law && e->governing == e->rejected_law)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "These pulls also speak against the %s law.",
                         e->governing->family->label);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Next: pull more parts%s.",
                     e->counts.below ? ", with a smaller first load and finer steps, and write down the last "
                                       "load that each held before it failed"
                                     : ", in finer steps where they fail");
}

static void answer_bound(hf_document *d, const hf_design_assessment *a, const hf_event_assessment *e) {
    const char *broken = hf_broken_by(d, a), *hangs = hf_hangs_on(d, a, false);
    const char *whatever = e->rejected_law ? hf_whatever_law_words(e->governing) : "";
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: %s, with %s confidence%s%s%s%s%s%s%s.",
                     hf_design_name(d, a->design), promise(d, a, e, e->governing, "at least"),
                     hf_show_text(d, HF_AS_SHARE_STATED, a->confidence), whatever[0] ? ", " : "", whatever,
                     hangs[0] ? ", if " : "", hangs, broken[0] ? "; settle this first: " : "", broken,
                     broken[0] ? "" : noted(d, a));
    say_rejected(d, e);
    say_batches(d, e);
    say_scatter(d, a, e->governing);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s The bound is rounded down.",
                     hf_missing_words(a->working_load_reason));
}

void hf_assess_lead(hf_document *d, const hf_design_assessment *a) {
    const hf_event_assessment *e = hf_answering_event(a);
    switch (a->answer.verdict) {
    case HF_ANSWER_WORKING_LOAD:
        answer_working_load(d, a, e);
        return;
    case HF_ANSWER_BOUND_ONLY:
        answer_bound(d, a, e);
        return;
    case HF_ANSWER_NOT_ASSURED:
        answer_not_assured(d, a, e);
        return;
    case HF_ANSWER_NONE:
        break;
    }
    if (e->governing && e->governing->value > 0) {
        hf_document_addf(
            d, HF_BLOCK_ANSWER,
            "%s: no safe load can be given: the rig's load error is as large as the bound of %s.",
            hf_design_name(d, a->design), hf_bound_load(d, e->governing->value));
        return;
    }
    if (e->governing) {
        answer_nothing_promised(d, a, e);
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s: no safe load can be given from these pulls.%s",
                     hf_design_name(d, a->design),
                     e->counts.used == 0 ? " No part has been pulled yet." : "");
    hf_assess_why_not(d, e);
}

void hf_assess_answer(hf_document *d, const hf_design_assessment *a) {
    hf_assess_lead(d, a);
    hf_looks_words(d, a);
    if (a->two_ended) hf_assess_one_fitting(d, a);
    if (a->required_stated) hf_assess_required(d, a);
    if (a->service_stated) hf_assess_service(d, a);
    hf_assess_next(d, a);
}
