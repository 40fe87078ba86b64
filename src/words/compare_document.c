/* The comparison in reading order: verdicts, pulls against each other, league, evidence, ways of failing, cautions, limits. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/assess_words.h"
#include "words/compare_report.h"
#include "words/json_fields.h"
#include "words/words.h"

const char *hf_compare_name(const hf_comparison_design *design) {
    return design->design->name && design->design->name[0] ? design->design->name : design->design->id;
}

/* --- Verdicts ---------------------------------------------------------------------------------------- */

typedef hf_pair_told telling;

hf_pair_told hf_compare_told(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    const char *a = hf_design_name(d, result->designs[pair->a].design),
               *b = hf_design_name(d, result->designs[pair->b].design);
    const char *confidence = hf_show_text(d, HF_AS_CONFIDENCE, 1 - result->options.level);
    if (pair->verdict == HF_VERDICT_B_STRONGER ||
        (pair->verdict == HF_VERDICT_CANNOT_TELL && pair->ratio < 1))
        return (telling){b, a, 1 / pair->ratio, 1 / pair->high, 1 / pair->low, confidence};
    return (telling){a, b, pair->ratio, pair->low, pair->high, confidence};
}

static void say_stronger(hf_document *d, const telling *t) {
    if (isnan(t->ratio) && isfinite(t->high))
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "%s is stronger than %s: typically somewhere between %s and %s times as strong, "
                         "with %s confidence; "
                         "the pulls single out no one figure.",
                         t->first, t->second, hf_show_text(d, HF_AS_NUMBER, t->low),
                         hf_show_text(d, HF_AS_NUMBER, t->high), t->confidence);
    else if (isfinite(t->ratio) && isfinite(t->high))
        hf_document_addf(
            d, HF_BLOCK_ANSWER,
            "%s is stronger than %s: typically %s times as strong, somewhere between %s and %s with "
            "%s confidence.",
            t->first, t->second, hf_show_text(d, HF_AS_NUMBER, t->ratio),
            hf_show_text(d, HF_AS_NUMBER, t->low), hf_show_text(d, HF_AS_NUMBER, t->high), t->confidence);
    else
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "%s is stronger than %s: typically at least %s times as strong, with %s confidence; "
                         "too few of its parts broke to say how much more.",
                         t->first, t->second, hf_show_text(d, HF_AS_NUMBER, hf_number_round_down(t->low, 3)),
                         t->confidence);
}

static void say_same(hf_document *d, const hf_comparison *result, const telling *t) {
    const char *ratio =
        isnan(t->ratio) ? ""
                        : hf_arena_format(d->arena, "%s times, ", hf_show_text(d, HF_AS_NUMBER, t->ratio));
    hf_document_addf(d, HF_BLOCK_ANSWER,
                     "%s and %s are the same within %s: %ssomewhere between %s and %s%s with %s confidence.",
                     t->first, t->second, hf_show_text(d, HF_AS_SHARE, result->options.same_within),
                     ratio ? ratio : "", hf_show_text(d, HF_AS_NUMBER, t->low),
                     hf_show_text(d, HF_AS_NUMBER, t->high), isnan(t->ratio) ? " times" : "", t->confidence);
}

/* What it would take to show the difference found, in batches where their means decide. */
static void say_what_settles(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    bool batches = pair->method == HF_COMPARISON_BATCH_MEANS;
    const char *things = batches ? "batches" : "parts";
    double count = batches ? pair->batches_to_settle : pair->parts_to_settle;
    size_t a = batches ? pair->batches_a : result->designs[pair->a].sample.count,
           b = batches ? pair->batches_b : result->designs[pair->b].sample.count;
    if (!(count > fmin((double)a, (double)b))) return;
    if (isfinite(count) && count < 1000)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "If the difference found is the true one, about %.0f %s of each in all would "
                         "settle it (%zu and %zu are pulled).",
                         count, things, a, b);
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "If the difference found is the true one, it would take a thousand %s of each or "
                         "more to show it.",
                         things);
}

static void say_what_could_be_seen(hf_document *d, const hf_comparison *result,
                                   const hf_comparison_pair *pair) {
    const char *power = hf_show_text(d, HF_AS_SHARE_ROUGH, pair->power);
    if (isfinite(pair->smallest_visible_ratio))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "A difference of %s times or more would have been seen here with a chance of %s; a "
                         "smaller one easily "
                         "goes unseen.",
                         hf_show_text(d, HF_AS_NUMBER, pair->smallest_visible_ratio), power);
    say_what_settles(d, result, pair);
}

static const char *kept(const char *words) {
    return words ? words : "?";
}

/* "4 % weaker", "as strong" */
static const char *by_how_much(hf_document *d, double ratio) {
    if (!isfinite(ratio)) return "any amount stronger";
    if (ratio == 1) return "as strong";
    return kept(hf_arena_format(d->arena, "%s %s", hf_show_text(d, HF_AS_SHARE_ROUGH, fabs(ratio - 1)),
                                ratio < 1 ? "weaker" : "stronger"));
}

const char *hf_compare_apart(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    const telling t = hf_compare_told(d, result, pair);
    const char *out = isnan(t.ratio) ? hf_arena_format(d->arena, "%s may be", t.first)
                                     : hf_arena_format(d->arena, "%s came out %s times as strong; it may be",
                                                       t.first, hf_show_text(d, HF_AS_NUMBER, t.ratio));
    const char *words =
        hf_arena_format(d->arena, "%s %s or %s", kept(out), by_how_much(d, t.low), by_how_much(d, t.high));
    if (pair->p <= result->options.level)
        words = hf_arena_format(
            d->arena,
            "alone the two would differ (p = %s), but among %zu pairs one such difference turns "
            "up by chance (p = %s when all are counted)",
            hf_show_text(d, HF_AS_NUMBER_ROUGH, pair->p), result->compared,
            hf_show_text(d, HF_AS_NUMBER_ROUGH, pair->p_adjusted));
    return kept(words);
}

static void say_cannot_tell(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair,
                            const telling *t) {
    bool alone = pair->p <= result->options.level;
    hf_document_addf(d, HF_BLOCK_ANSWER, "These pulls cannot tell %s and %s apart: %s%s%s%s.", t->first,
                     t->second, hf_compare_apart(d, result, pair), alone ? "" : " (",
                     alone ? "" : t->confidence, alone ? "" : " confidence)");
    if (!alone) say_what_could_be_seen(d, result, pair);
}

static void say_nothing(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    const hf_comparison_design *a = &result->designs[pair->a], *b = &result->designs[pair->b];
    hf_document_addf(d, HF_BLOCK_ANSWER, "%s and %s: nothing can be said. Why: %s.",
                     hf_design_name(d, a->design), hf_design_name(d, b->design), pair->reason_text);
    if (strcmp(pair->reason, "one_part") == 0)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "One pull tells how strong that part was, not how strong the design is. Pull two or "
                        "more of each; or, if the scatter of this kind of "
                        "part is known from earlier pulls, state it (designs[].scatter, with its source).");
}

/* The verdict goes by typical parts, the league by what can be promised: where the two part, both are named. */
bool hf_compare_other_order(const hf_comparison *result, const hf_comparison_pair *pair) {
    bool a_first = pair->verdict == HF_VERDICT_A_STRONGER;
    if (!a_first && pair->verdict != HF_VERDICT_B_STRONGER) return false;
    const hf_comparison_design *first = &result->designs[a_first ? pair->a : pair->b],
                               *second = &result->designs[a_first ? pair->b : pair->a];
    return second->bound > first->bound && second->bound > 0 && first->content == second->content &&
           first->confidence == second->confidence;
}

static void say_other_order(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    bool a_first = pair->verdict == HF_VERDICT_A_STRONGER;
    const hf_comparison_design *first = &result->designs[a_first ? pair->a : pair->b],
                               *second = &result->designs[a_first ? pair->b : pair->a];
    if (!hf_compare_other_order(result, pair)) return;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Less can be promised of it all the same: at least %s of all parts carry %s for %s and %s for %s. "
        "Bounds are rounded down; they also count scatter (%s against %s) and the parts that failed (%zu "
        "against %zu).",
        hf_show_text(d, HF_AS_SHARE_STATED, first->content),
        first->bound > 0 ? hf_bound_load(d, first->bound) : "nothing", hf_design_name(d, first->design),
        hf_bound_load(d, second->bound), hf_design_name(d, second->design),
        hf_show_text(d, HF_AS_SHARE_ROUGH, first->scatter),
        hf_show_text(d, HF_AS_SHARE_ROUGH, second->scatter), first->event.counts.failed,
        second->event.counts.failed);
}

/* Designs without a single measured pull may have been pulled against each other; that is told there. */
bool hf_compare_only_matched(const hf_comparison *result, const hf_comparison_pair *pair) {
    bool pulled = result->designs[pair->a].sample.count > 0 && result->designs[pair->b].sample.count > 0;
    for (size_t i = 0; i < result->match_count; i++)
        if (result->matches[i].a == pair->a && result->matches[i].b == pair->b) return !pulled;
    return false;
}

/* An interval that may hold less often than it says must not stand there without a word. */
static void point_to_cautions(hf_document *d, const hf_comparison_pair *pair) {
    static const hf_caution_code codes[] = {
        HF_CAUTION_SMALL_GROUP_SCATTERS, HF_CAUTION_SMALL_GROUP_SCATTERS_OPEN,
        HF_CAUTION_SCATTER_APART,        HF_CAUTION_SCATTER_APART_OPEN,
        HF_CAUTION_SCATTER_UNSEEN,       HF_CAUTION_WIDE_STEPS,
        HF_CAUTION_PAIR_OF_PARTS,        HF_CAUTION_BATCH_COUNTS_APART};
    bool any = false;
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++)
        any |= hf_cautions_have(&pair->cautions, codes[i]);
    if (any)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "That interval may hold less often than it says: see the cautions about this "
                        "comparison.");
}

/* Where the two tests part, the one that takes each part for itself is what people would have reckoned. */
static void say_batches(hf_document *d, const hf_comparison_pair *pair) {
    if (pair->method != HF_COMPARISON_BATCH_MEANS) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "This goes by the means of the batches, %zu against %zu: p is %s. With each part taken "
                     "for itself it would be %s, as if no batch differed from the next.",
                     pair->batches_a, pair->batches_b, hf_compare_p(d, pair->p),
                     hf_compare_p(d, pair->p_by_parts));
}

static void add_verdict(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    const telling t = hf_compare_told(d, result, pair);
    if (hf_compare_only_matched(result, pair)) return;
    if (pair->method == HF_COMPARISON_NONE)
        say_nothing(d, result, pair);
    else if (pair->verdict == HF_VERDICT_SAME_WITHIN)
        say_same(d, result, &t);
    else if (pair->verdict == HF_VERDICT_CANNOT_TELL)
        say_cannot_tell(d, result, pair, &t);
    else
        say_stronger(d, &t);
    say_batches(d, pair);
    if (pair->method != HF_COMPARISON_NONE) point_to_cautions(d, pair);
    say_other_order(d, result, pair);
    if (pair->method == HF_COMPARISON_STATED)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "This leans on a STATED scatter, which these pulls do not show.");
    if (pair->verdict == HF_VERDICT_SAME_WITHIN && pair->p_adjusted <= result->options.level)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "There is a difference, %s is the stronger; it is smaller than what you call the same.",
            hf_design_name(d, result->designs[hf_comparison_first_leads(pair) ? pair->a : pair->b].design));
}

/* --- Against each other ------------------------------------------------------------------------------ */

static const char *pulls(hf_document *d, size_t count) {
    const char *text = hf_arena_format(d->arena, "%zu %s", count, count == 1 ? "pull" : "pulls");
    return text ? text : "";
}

void hf_compare_match(hf_document *d, const hf_comparison *result, const hf_comparison_match *match) {
    const hf_sign_test *test = &match->test;
    const char *a = hf_design_name(d, result->designs[match->a].design),
               *b = hf_design_name(d, result->designs[match->b].design);
    size_t decided = test->first_won + test->second_won;
    bool settled = decided > 0 && test->p <= result->options.level,
         first = test->first_won >= test->second_won;
    const char *winner = first ? a : b, *loser = first ? b : a;
    size_t won = first ? test->first_won : test->second_won;
    if (!decided) {
        hf_document_addf(
            d, HF_BLOCK_ANSWER,
            "Pulled against each other, %s and %s broke together each time: nothing can be said.", a, b);
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER,
                     "Pulled against each other, %s outlasted %s in %zu of %zu: %s (p = %s).", winner, loser,
                     won, decided, settled ? "too lopsided for chance" : "that can still be chance",
                     hf_show_text(d, HF_AS_NUMBER_ROUGH, test->p));
    if (test->ties)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "In %s both broke; those say nothing about which is stronger and are left out.",
                         pulls(d, test->ties));
    if (!settled)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%zu more in a row for %s would settle it. With one side winning all, %zu are "
                         "needed in all; if it wins nine in ten, %zu.",
                         test->more, winner, match->least, match->parts_nine_in_ten);
}

/* --- Cautions and the whole -------------------------------------------------------------------------- */

void hf_compare_cautions(hf_document *d, const hf_comparison *result,
                         void (*add)(hf_document *, const hf_cautions *, const char *about),
                         const char *file) {
    size_t count = result->cautions.count;
    for (size_t i = 0; i < result->count; i++) count += result->designs[i].cautions.count;
    for (size_t i = 0; i < result->pair_count; i++) count += result->pairs[i].cautions.count;
    if (!count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions");
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        const char *about =
            hf_arena_format(d->arena, "%s and %s", hf_design_name(d, result->designs[pair->a].design),
                            hf_design_name(d, result->designs[pair->b].design));
        add(d, &pair->cautions, about ? about : "");
    }
    for (size_t i = 0; i < result->count; i++)
        add(d, &result->designs[i].cautions, hf_design_name(d, result->designs[i].design));
    add(d, &result->cautions, file);
}

void hf_compare_verdicts(hf_document *d, const hf_comparison *result) {
    for (size_t i = 0; i < result->pair_count; i++) add_verdict(d, result, &result->pairs[i]);
    for (size_t i = 0; i < result->match_count; i++) hf_compare_match(d, result, &result->matches[i]);
}

static void compare_document(const void *shown, hf_document *d) {
    const hf_comparison *result = shown;
    const hf_campaign *campaign = result->campaign;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s", campaign->title[0] ? campaign->title : campaign->file);
    if (!result->pair_count)
        hf_document_add(d, HF_BLOCK_ANSWER, "There is one design in this file: nothing to compare it with.");
    hf_compare_league(d, result);
    hf_compare_verdicts(d, result);
    if (result->compared) {
        hf_compare_evidence(d, result);
        hf_compare_beside(d, result);
    }
    hf_compare_modes_tables(d, result);
    hf_compare_ends_tables(d, result);
    hf_compare_cautions(d, result, hf_document_cautions, "");
    hf_limits(d);
    hf_document_add(d, HF_BLOCK_HEADING, "To repeat");
    hf_repeat_line(d, campaign, result->options.seed);
}

const hf_report_kind hf_report_compare = {"compare", compare_document, &hf_json_compare};
