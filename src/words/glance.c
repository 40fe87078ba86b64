/* The answer of a design in one line. It decides nothing: verdict, met and cautions are the answer's. */
#include "words/glance.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/load/unit.h"
#include "words/assess_words.h"

static const char *words_or(const char *words, const char *other) {
    return words ? words : other;
}

/* --- What comes out ---------------------------------------------------------------------------------- */

static const char *load_words(hf_document *d, const hf_answer *answer) {
    switch (answer->verdict) {
    case HF_ANSWER_WORKING_LOAD:
        return hf_show_text(d, HF_AS_RATING, answer->unrounded);
    case HF_ANSWER_BOUND_ONLY:
        return hf_bound_load(d, answer->bound->value);
    case HF_ANSWER_NOT_ASSURED:
    case HF_ANSWER_NONE:
        break;
    }
    return "no load";
}

static const char *mass_words(hf_document *d, const hf_answer *answer) {
    if (!isfinite(answer->working_load_mass) || !answer->mass_unit || d->style->unit->is_mass) return "";
    return words_or(hf_arena_format(d->arena, "%s %s",
                                    hf_show_text(d, HF_AS_NUMBER, answer->working_load_mass),
                                    answer->mass_unit->name),
                    "");
}

/* --- Whether it is enough ---------------------------------------------------------------------------- */

/* "2.0 times": how often the service load goes into it, rounded down. */
static const char *times_words(hf_document *d, const hf_design_assessment *a) {
    return words_or(
        hf_arena_format(d->arena, "%s times",
                        hf_show_text(d, HF_AS_NUMBER_ROUGH, hf_number_round_down(1 + a->margin, 2))),
        "");
}

static const char *service_words(hf_document *d, const hf_design_assessment *a) {
    const char *stated = hf_show_text(d, HF_AS_STATED, a->design->goal.service_load.value), *words = "";
    switch (a->answer.service) {
    case HF_MET:
        words = hf_arena_format(d->arena, "covers %s %s", stated, times_words(d, a));
        break;
    case HF_MET_IF:
        words = hf_arena_format(d->arena, "covers %s", stated);
        break;
    case HF_NOT_MET:
        words = hf_arena_format(d->arena, "does NOT cover %s", stated);
        break;
    case HF_MET_NOT_STATED:
        break;
    }
    return words_or(words, "");
}

static const char *required_words(hf_document *d, const hf_design_assessment *a) {
    const char *stated = hf_show_text(d, HF_AS_STATED, a->design->goal.required_bound.value), *words = "";
    if (a->answer.required == HF_MET_NOT_STATED) return "";
    words = hf_arena_format(d->arena, "required bound %s %s", stated,
                            a->answer.required == HF_NOT_MET ? "NOT met" : "met");
    return words_or(words, "");
}

static const char *verdict_words(hf_document *d, const hf_design_assessment *a) {
    const char *service = service_words(d, a), *words = service;
    if (service[0]) return service;
    switch (a->answer.verdict) {
    case HF_ANSWER_WORKING_LOAD:
        return required_words(d, a);
    case HF_ANSWER_BOUND_ONLY:
        words = hf_arena_format(d->arena, "at least %s carry it; no working load yet",
                                hf_show_text(d, HF_AS_SHARE_STATED, a->answer.bound->content));
        break;
    case HF_ANSWER_NOT_ASSURED:
        return a->break_event.governing_reason == HF_GOVERNS_SCATTER_NOT_ASSURED
                   ? "the pulls contradict the stated scatter"
                   : "the pulls speak against the law";
    case HF_ANSWER_NONE:
        return a->break_event.counts.used ? "no bound comes out of these pulls" : "not pulled yet";
    }
    return words_or(words, "");
}

/* --- What speaks against it -------------------------------------------------------------------------- */

/* What the bound by ways of failing leaves of the working load. */
static const char *modes_words(hf_document *d, const hf_design_assessment *a) {
    const hf_caution *caution = hf_cautions_find(&a->cautions, HF_CAUTION_MODES_NOT_COVERING);
    if (!caution || !isfinite(caution->number[2])) return "";
    return words_or(hf_arena_format(d->arena, "%s %s if its ways of failing come in other shares",
                                    a->answer.service == HF_NOT_MET ? "only" : "but only",
                                    hf_show_text(d, HF_AS_RATING, caution->number[2])),
                    "");
}

/* What stands between the verdict and what limits it, and that. */
typedef struct limit {
    const char *joint, *words;
} limit;

static limit limit_of(hf_document *d, const hf_design_assessment *a) {
    const char *broken = hf_broken_by(d, a), *modes = modes_words(d, a),
               *hangs = hf_hangs_on(d, a, !modes[0]);
    const hf_caution *worst = hf_worst_caution(a);
    const char *doubts = hf_doubted(d, a), *also = doubts[0] ? "; " : "";
    bool service = a->answer.service != HF_MET_NOT_STATED && a->answer.verdict == HF_ANSWER_WORKING_LOAD;
    if (broken[0]) return (limit){"; ", hf_arena_format(d->arena, "settle first: %s", broken)};
    if (service && a->answer.required == HF_NOT_MET) return (limit){"; ", required_words(d, a)};
    /* What is not covered is so on no condition: the load is what hangs on it. */
    const bool unmet = a->answer.service == HF_NOT_MET;
    const char *joint = unmet ? "; " : ", ", *on = unmet ? "the load holds if " : "if ";
    if (modes[0])
        return (limit){joint, hf_arena_format(d->arena, "%s%s%s%s%s%s", hangs[0] ? on : "", hangs,
                                              hangs[0] ? joint : "", modes, also, doubts)};
    if (hangs[0]) return (limit){joint, hf_arena_format(d->arena, "%s%s%s%s", on, hangs, also, doubts)};
    if (doubts[0]) return (limit){"; ", doubts};
    if (worst && worst->code != HF_CAUTION_SERVICE_NOT_MET && worst->code != HF_CAUTION_REQUIRED_NOT_MET)
        return (limit){"; ", hf_arena_format(d->arena, "caution: %s", hf_caution_said(d, worst->code))};
    return (limit){"", ""};
}

static hf_tone tone_of(const hf_answer *answer) {
    hf_met worst = answer->service > answer->required ? answer->service : answer->required;
    if (answer->verdict == HF_ANSWER_NONE || answer->verdict == HF_ANSWER_NOT_ASSURED || worst == HF_NOT_MET)
        return HF_TONE_BAD;
    return worst == HF_MET_IF ? HF_TONE_IF : worst == HF_MET ? HF_TONE_GOOD : HF_TONE_PLAIN;
}

/* --- All --------------------------------------------------------------------------------------------- */

static double load_of(const hf_answer *answer) {
    return answer->verdict == HF_ANSWER_WORKING_LOAD ? answer->unrounded
           : answer->verdict == HF_ANSWER_BOUND_ONLY ? answer->bound->value
                                                     : 0;
}

static int best_first(const void *left, const void *right) {
    const hf_glance *a = left, *b = right;
    const hf_answer *first = &a->design->answer, *second = &b->design->answer;
    double by = load_of(first) - load_of(second);
    if (first->verdict != second->verdict) return first->verdict > second->verdict ? -1 : 1;
    if (by > 0 || by < 0) return by > 0 ? -1 : 1;
    return (a->design > b->design) - (a->design < b->design);
}

const hf_glance *hf_glance_of(hf_document *d, const hf_assessment *assessment) {
    hf_glance *all = HF_ARENA_NEW_ARRAY(d->arena, hf_glance, assessment->count + 1);
    for (size_t i = 0; all && i < assessment->count; i++) {
        const hf_design_assessment *a = &assessment->designs[i];
        const limit but = limit_of(d, a);
        const char *verdict = verdict_words(d, a), *words = words_or(but.words, "");
        all[i] = (hf_glance){
            a,
            tone_of(&a->answer),
            hf_design_name(d, a->design),
            load_words(d, &a->answer),
            mass_words(d, &a->answer),
            verdict,
            words,
            words_or(hf_arena_format(d->arena, "%s%s%s", verdict, verdict[0] ? but.joint : "", words), "")};
    }
    if (all) qsort(all, assessment->count, sizeof *all, best_first);
    return all;
}

/* --- Over all designs --------------------------------------------------------------------------------- */

const char *hf_glance_headline(hf_document *d, const hf_glance *best, const char *name) {
    const hf_answer *answer = &best->design->answer;
    bool not_met = answer->service == HF_NOT_MET || answer->required == HF_NOT_MET;
    const char *load = best->load, *words = "No load can be given";
    if (answer->verdict == HF_ANSWER_BOUND_ONLY)
        words = hf_arena_format(d->arena, "%s: %s of parts carry %s", name,
                                hf_show_text(d, HF_AS_SHARE_STATED, answer->bound->content), load);
    else if (answer->verdict == HF_ANSWER_WORKING_LOAD && not_met)
        words = hf_broken_by(d, best->design)[0]
                    ? hf_arena_format(d->arena, "%s: do not use %s yet", name, load)
                    : hf_arena_format(d->arena, "%s: %s, and that is NOT enough", name, load);
    else if (answer->verdict == HF_ANSWER_WORKING_LOAD && best->tone == HF_TONE_IF)
        words = hf_arena_format(d->arena, "%s: at most %s, on a condition", name, load);
    else if (answer->verdict == HF_ANSWER_WORKING_LOAD)
        words = best->mass[0] ? hf_arena_format(d->arena, "%s: work with at most %s (%s in all)", name, load,
                                                best->mass)
                              : hf_arena_format(d->arena, "%s: work with at most %s", name, load);
    return words_or(words, "");
}

const char *hf_glance_tally(hf_document *d, const hf_glance *glances, size_t count) {
    size_t with[HF_TONE_BAD + 1] = {0};
    if (count < 2) return "";
    for (size_t i = 0; i < count; i++) with[glances[i].tone]++;
    if (with[HF_TONE_PLAIN]) return words_or(hf_arena_format(d->arena, " %zu designs.", count), "");
    const char *text = hf_arena_format(d->arena, " Of %zu designs %zu %s enough", count, with[HF_TONE_GOOD],
                                       with[HF_TONE_GOOD] == 1 ? "is" : "are");
    if (with[HF_TONE_IF])
        text = hf_arena_format(d->arena, "%s, %zu on a condition", words_or(text, ""), with[HF_TONE_IF]);
    if (with[HF_TONE_BAD])
        text = hf_arena_format(d->arena, "%s, %zu not", words_or(text, ""), with[HF_TONE_BAD]);
    return words_or(hf_arena_format(d->arena, "%s.", words_or(text, "")), "");
}

/* --- As a table --------------------------------------------------------------------------------------- */

const char *hf_glance_sign(hf_tone tone) {
    static const char *const signs[] = {
        [HF_TONE_PLAIN] = "", [HF_TONE_GOOD] = "✓", [HF_TONE_IF] = "!", [HF_TONE_BAD] = "✗"};
    return signs[tone];
}

hf_block *hf_glance_table(hf_document *d, const hf_glance *glances, size_t count) {
    static const char *const header[] = {"design", ">load", ">in all", "what is asked of it", NULL};
    hf_block *table = hf_document_table(d, header);
    if (!table) return NULL;
    table->bare = true;
    for (size_t i = 0; i < count; i++) {
        const hf_glance *g = &glances[i];
        const char *sign = hf_glance_sign(g->tone);
        const char *cells[] = {
            words_or(hf_arena_format(d->arena, "%s%s%s", sign, sign[0] ? " " : "", g->name), g->name),
            g->load, g->mass, g->says, NULL};
        hf_document_row(d, table, cells);
        if (table->last_row) table->last_row->tone = g->tone;
    }
    return table;
}

void hf_glance_picked(hf_document *d, const hf_assessment *assessment) {
    const hf_design_assessment *first = &assessment->designs[0];
    if (isfinite(assessment->picked_worth))
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "Whoever picks the best of these %zu for its bound can rely on it with %s confidence, "
            "not %s; --best-of %zu gives the bounds to pick by.",
            assessment->count, hf_show_text(d, HF_AS_SHARE_KEPT, assessment->picked_worth),
            hf_show_text(d, HF_AS_SHARE_STATED, first->confidence), assessment->count);
    else if (assessment->count && first->promise.picked_from)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The best of %zu designs is picked: each bound is taken so that whichever it is keeps "
            "%s confidence.",
            first->promise.picked_from, hf_show_text(d, HF_AS_SHARE_STATED, first->confidence));
}
