/* The comparison at one look: the league, a line for each pair, cautions by name. The whole is compare_document.c. */
#include <math.h>
#include "holdfast/base/number.h"
#include "words/compare_report.h"
#include "words/json_fields.h"
#include "words/words.h"

static const char *kept(const char *words) {
    return words ? words : "?";
}

/* "1.23 times (1.13 to 1.35)", "at least 1.4 times" */
static const char *times(hf_document *d, const hf_pair_told *t) {
    const char *low = hf_show_text(d, HF_AS_NUMBER, t->low);
    if (!isfinite(t->high))
        return kept(hf_arena_format(d->arena, "at least %s times",
                                    hf_show_text(d, HF_AS_NUMBER, hf_number_round_down(t->low, 3))));
    const char *high = hf_show_text(d, HF_AS_NUMBER, t->high);
    if (isnan(t->ratio)) return kept(hf_arena_format(d->arena, "%s to %s times", low, high));
    return kept(
        hf_arena_format(d->arena, "%s times (%s to %s)", hf_show_text(d, HF_AS_NUMBER, t->ratio), low, high));
}

static void add_pair(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    const hf_pair_told t = hf_compare_told(d, result, pair);
    const char *more = pair->cautions.count ? "; see the cautions" : "",
               *by = pair->method == HF_COMPARISON_BATCH_MEANS ? " by batch means" : "";
    if (hf_compare_only_matched(result, pair)) return;
    if (pair->method == HF_COMPARISON_NONE)
        hf_document_addf(d, HF_BLOCK_ITEM, "%s and %s: nothing can be said: %s.", t.first, t.second,
                         pair->reason_text);
    else if (pair->verdict == HF_VERDICT_CANNOT_TELL)
        hf_document_addf(d, HF_BLOCK_ITEM, "Cannot tell %s and %s apart%s: %s%s.", t.first, t.second, by,
                         hf_compare_apart(d, result, pair), more);
    else if (pair->verdict == HF_VERDICT_SAME_WITHIN)
        hf_document_addf(d, HF_BLOCK_ITEM, "%s and %s are the same within %s: %s%s%s.", t.first, t.second,
                         hf_show_text(d, HF_AS_SHARE, result->options.same_within), times(d, &t), by, more);
    else
        hf_document_addf(
            d, HF_BLOCK_ITEM, "%s is stronger than %s: %s%s%s%s.", t.first, t.second, times(d, &t), by,
            hf_compare_other_order(result, pair) ? ", but less can be promised of it" : "", more);
}

void hf_compare_pairs(hf_document *d, const hf_comparison *result) {
    for (size_t i = 0; i < result->pair_count; i++) add_pair(d, result, &result->pairs[i]);
}

static void name_cautions(hf_document *d, const hf_cautions *list, const char *about) {
    if (list->count) hf_document_addf(d, HF_BLOCK_ITEM, "%s: %s.", about, hf_caution_names(d, list));
}

static void add_legend(hf_document *d, const hf_comparison *result) {
    const char *worth = "";
    if (isfinite(result->picked_worth))
        worth = kept(hf_arena_format(d->arena, ", whose own bound is then worth %s",
                                     hf_show_text(d, HF_AS_SHARE_KEPT, result->picked_worth)));
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "picked: the bound to use for the one picked as the best of %zu%s. typical: the middle of its "
        "strength, by which the pairs are compared%s; intervals hold with %s confidence. The rig's load "
        "error is not yet off the bounds. Evidence, ways of failing and cautions in words: --full.",
        result->picked_from, worth,
        hf_compare_any_method(result, HF_COMPARISON_BATCH_MEANS)
            ? ", or by the means of the batches where all state theirs"
            : "",
        hf_show_text(d, HF_AS_CONFIDENCE, 1 - result->options.level));
}

/* In the order of the league. */
static void add_strips(hf_document *d, const hf_comparison *result) {
    const hf_design_assessment **designs =
        HF_ARENA_NEW_ARRAY(d->arena, const hf_design_assessment *, result->count);
    for (size_t i = 0; designs && i < result->count; i++)
        designs[i] = result->designs[result->league[i]].assessment;
    if (designs) hf_strip_lines(d, designs, result->count);
}

static void short_document(const void *shown, hf_document *d) {
    const hf_comparison *result = shown;
    const hf_campaign *campaign = result->campaign;
    bool pulled = false;
    hf_document_add(d, HF_BLOCK_TITLE, campaign->title[0] ? campaign->title : campaign->file);
    for (size_t i = 0; i < result->count; i++)
        pulled |= result->pair_count && result->designs[i].sample.count;
    if (pulled) {
        hf_compare_league_table(d, result);
        add_strips(d, result);
    }
    if (!result->pair_count)
        hf_document_add(d, HF_BLOCK_ANSWER, "There is one design in this file: nothing to compare it with.");
    else
        hf_document_add(d, HF_BLOCK_HEADING, "Pair by pair");
    hf_compare_pairs(d, result);
    for (size_t i = 0; i < result->match_count; i++) hf_compare_match(d, result, &result->matches[i]);
    hf_compare_cautions(d, result, name_cautions, "The whole file");
    hf_document_add(d, HF_BLOCK_HEADING, "How to read it");
    if (pulled) add_legend(d, result);
    hf_short_limits(d);
    hf_repeat_line(d, campaign, result->options.seed);
}

const hf_report_kind hf_report_compare_short = {"compare", short_document, &hf_json_compare};
