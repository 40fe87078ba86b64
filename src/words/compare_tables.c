/* Tables of a comparison: league, evidence, ways of failing, fittings in a row. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"
#include "words/compare_report.h"
#include "words/words.h"

enum { MOST_LETTERS = 26 };

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

static const char *load_header(hf_document *d, const char *what) {
    return or_dash(hf_arena_format(d->arena, ">%s, %s", what, d->style->unit->name));
}

static const char *pair_name(hf_document *d, const hf_comparison *result, const hf_comparison_pair *pair) {
    return or_dash(hf_arena_format(d->arena, "%s : %s",
                                   hf_cut_text(d, result->designs[pair->a].design->id, HF_NAME_COLUMNS),
                                   hf_cut_text(d, result->designs[pair->b].design->id, HF_NAME_COLUMNS)));
}

static const char *range_text(hf_document *d, double low, double high, int figures) {
    if (isnan(low) || isnan(high)) return "-";
    const char *end = isfinite(high) ? hf_figures_text(d, high, figures) : "∞";
    return or_dash(hf_arena_format(d->arena, "%s–%s", hf_figures_text(d, low, figures), end));
}

/* "<0.0001" rather than a row of figures. */
const char *hf_compare_p(hf_document *d, double p) {
    if (isnan(p)) return "-";
    return p < 0.0001 ? "<0.0001" : hf_show_text(d, HF_AS_NUMBER_ROUGH, p);
}

/* --- League ------------------------------------------------------------------------------------------ */

/* Groups as they are met going down the league, so that the letters run with it. */
static void order_groups(const hf_comparison *result, size_t *order, size_t *count) {
    *count = 0;
    for (size_t i = 0; i < result->count; i++)
        for (size_t g = 0; g < result->group_count && *count < MOST_LETTERS; g++) {
            bool met = false;
            for (size_t k = 0; k < *count; k++) met = met || order[k] == g;
            if (!met && (result->groups[g] >> result->league[i] & 1U)) order[(*count)++] = g;
        }
}

/* Letters of the groups of designs that cannot be told apart; a design may stand in several. */
static const char *group_letters(hf_document *d, const hf_comparison *result, size_t design) {
    hf_text text = {0};
    size_t order[MOST_LETTERS], count;
    order_groups(result, order, &count);
    for (size_t i = 0; i < count; i++)
        if (result->groups[order[i]] >> design & 1U) hf_text_addf(&text, "%c", (char)('a' + (int)i));
    const char *letters = hf_arena_text(d->arena, text.bytes ? text.bytes : "", text.length);
    hf_text_free(&text);
    return or_dash(letters);
}

/* A bound by a law that does not fit must not stand in the league without a word. */
static void say_rejected_laws(hf_document *d, const hf_comparison *result) {
    hf_text names = {0};
    size_t count = 0;
    for (size_t i = 0; i < result->count; i++) {
        const hf_comparison_design *design = &result->designs[result->league[i]];
        if (!hf_governing_rejected(&design->event)) continue;
        hf_text_addf(&names, "%s%s", count++ ? ", " : "", hf_design_name(d, design->design));
    }
    if (count)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The pulls speak against the law that the bound leans on, so its confidence is not "
                         "assured: %s.",
                         names.bytes ? names.bytes : "?");
    hf_text_free(&names);
}

/* Whoever takes the best of several takes a lucky one more often than the others. */
static void say_picked(hf_document *d, const hf_comparison *result) {
    const hf_comparison_design *first = &result->designs[0];
    if (isnan(result->picked_worth)) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "picked: the bound to use for the one picked because it came out best of %zu, at a "
                         "confidence that keeps what is promised whichever that is.",
                         result->picked_from);
        return;
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "picked: the bound to use for the one picked because it came out best of %zu. Its "
        "own bound, promised "
        "with %s, is then right %s of the time; taken at %s it keeps the promise, whichever is "
        "picked. Or pull "
        "the winner again, with fresh parts, and use only those.",
        result->picked_from, hf_show_text(d, HF_AS_SHARE_STATED, first->confidence),
        hf_show_text(d, HF_AS_SHARE_KEPT, result->picked_worth),
        hf_show_text(d, HF_AS_CONFIDENCE, hf_best_of_confidence(first->confidence, result->picked_from)));
}

void hf_compare_league_notes(hf_document *d, const hf_comparison *result) {
    bool more = result->count > 2 && result->group_count > 0;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "In order of the lower bound, what a design can be trusted with, never of its best "
        "pull; the rig's load error is not yet off it. typical: the middle of its strength, by "
        "which one is called stronger than the other. scatter: of the logarithms of load, the "
        "unfinished pulls counted in, so not quite the standard deviation given with the pulls.%s",
        more ? " Designs that share a letter cannot be told apart." : "");
    say_picked(d, result);
    say_rejected_laws(d, result);
}

static bool any_pulled(const hf_comparison *result) {
    for (size_t i = 0; i < result->count; i++)
        if (result->designs[i].sample.count) return true;
    return false;
}

void hf_compare_league(hf_document *d, const hf_comparison *result) {
    if (!any_pulled(result)) return;
    hf_compare_league_table(d, result);
    hf_compare_league_notes(d, result);
}

void hf_compare_league_table(hf_document *d, const hf_comparison *result) {
    const char *const header[] = {">rank",
                                  "design",
                                  ">failed",
                                  load_header(d, "bound"),
                                  load_header(d, "picked"),
                                  load_header(d, "typical"),
                                  ">scatter",
                                  result->count > 2 ? "group" : NULL,
                                  NULL};
    const hf_comparison_design *first = &result->designs[0];
    bool one_promise = true;
    for (size_t i = 1; i < result->count; i++)
        one_promise = one_promise && result->designs[i].content == first->content &&
                      result->designs[i].confidence == first->confidence;
    if (one_promise)
        hf_document_addf(d, HF_BLOCK_HEADING,
                         "The league: at least %s of all parts carry the bound, with %s confidence",
                         hf_show_text(d, HF_AS_SHARE_STATED, first->content),
                         hf_show_text(d, HF_AS_SHARE_STATED, first->confidence));
    else
        hf_document_add(d, HF_BLOCK_HEADING, "The league, each design at its own content and confidence");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < result->count; i++) {
        const hf_comparison_design *design = &result->designs[result->league[i]];
        const char *cells[] = {design->rank ? or_dash(hf_arena_format(d->arena, "%zu", design->rank)) : "-",
                               hf_design_name(d, design->design),
                               or_dash(hf_arena_format(d->arena, "%zu of %zu", design->event.counts.failed,
                                                       design->sample.count)),
                               hf_bound_cell(d, design->own_bound),
                               hf_bound_cell(d, design->if_picked),
                               hf_bare_text(d, HF_AS_MEAN, design->geometric_mean),
                               hf_show_text(d, HF_AS_SHARE_ROUGH, design->scatter),
                               group_letters(d, result, result->league[i]),
                               NULL};
        hf_document_row(d, table, cells);
    }
}

/* --- Evidence ---------------------------------------------------------------------------------------- */

static const char *method_words(hf_comparison_method method) {
    static const char *const words[] = {"-", "Welch", "likelihood", "Welch, open", "stated", "batches"};
    return words[method];
}

bool hf_compare_any_method(const hf_comparison *result, hf_comparison_method method) {
    for (size_t i = 0; i < result->pair_count; i++)
        if (result->pairs[i].method == method) return true;
    return false;
}

static bool any_relabeling(const hf_comparison *result, bool random) {
    for (size_t i = 0; i < result->pair_count; i++)
        if (result->pairs[i].relabel.available && (!random || !result->pairs[i].relabel.full)) return true;
    return false;
}

static void evidence_notes(hf_document *d, const hf_comparison *result) {
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    "ratio: first over second, of geometric means (likelihood: of medians). p: the chance of "
                    "a difference as large if there were "
                    "none. sees: the smallest ratio "
                    "this test shows with a chance of 80 %. settle: parts of each, "
                    "in all, to show the ratio found.");
    if (hf_compare_any_method(result, HF_COMPARISON_WELCH))
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "Welch: on ln load, each design its own scatter, each variance s² + h²/8 for the steps.");
    if (hf_compare_any_method(result, HF_COMPARISON_BATCH_MEANS))
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "batches: Welch's test on the means of the batches, each batch counting once, its "
                        "variance v + h²/(8 m), v that of the means and m the parts in a batch. Batches of "
                        "two designs count as different ones whatever they are called. settle: batches (b) "
                        "of each, of as many parts.");
    if (hf_compare_any_method(result, HF_COMPARISON_LIKELIHOOD))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "likelihood: %s law, one scatter for both, unfinished pulls counted on the "
                         "side they show, small-sample reference.",
                         hf_family_lognormal.label);
    if (any_relabeling(result, false))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "relabeled: how many of all ways to share out the pulls between the two names "
                         "differ as much. It leans on no bell shape, but on one common "
                         "ladder, and on equal making but for the name.%s",
                         any_relabeling(result, true) ? " Where there are too many ways, a million are drawn."
                                                      : "");
    if (result->compared > 1)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "adjusted: Holm's rule over %zu comparisons; the verdicts go by it.",
                         result->compared);
}

static const char *settle_text(hf_document *d, const hf_comparison_pair *pair) {
    bool batches = pair->method == HF_COMPARISON_BATCH_MEANS;
    double count = batches ? pair->batches_to_settle : pair->parts_to_settle;
    return count < 1e6 ? or_dash(hf_arena_format(d->arena, "%.0f%s", count, batches ? " b" : "")) : "-";
}

void hf_compare_evidence(hf_document *d, const hf_comparison *result) {
    static const char *const all[] = {"pair",       ">ratio", ">interval", ">p", ">adjusted",
                                      ">relabeled", ">sees",  ">settle",   NULL};
    static const char *const verdicts[] = {"pair",      "test",  ">ratio",  ">interval", ">p",
                                           ">adjusted", ">sees", ">settle", NULL};
    hf_document_addf(d, HF_BLOCK_HEADING, "The evidence, intervals at %s confidence",
                     hf_show_text(d, HF_AS_CONFIDENCE, 1 - result->options.level));
    hf_block *table = hf_document_table(d, result->options.verdicts_only ? verdicts : all);
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        if (pair->method == HF_COMPARISON_NONE) continue;
        bool finite = isfinite(pair->ratio) && pair->ratio > 0;
        const char *cells[9] = {pair_name(d, result, pair)};
        size_t at = 1;
        if (result->options.verdicts_only) cells[at++] = method_words(pair->method);
        cells[at++] = finite ? hf_show_text(d, HF_AS_NUMBER, pair->ratio) : "-";
        cells[at++] = range_text(d, pair->low, pair->high, 3);
        cells[at++] = hf_compare_p(d, pair->p);
        cells[at++] = hf_compare_p(d, pair->p_adjusted);
        if (!result->options.verdicts_only)
            cells[at++] = hf_compare_p(d, pair->relabel.available ? pair->relabel.p : NAN);
        cells[at++] = hf_show_text(d, HF_AS_NUMBER, pair->smallest_visible_ratio);
        cells[at] = settle_text(d, pair);
        hf_document_row(d, table, cells);
    }
    evidence_notes(d, result);
}

/* --- Beside it --------------------------------------------------------------------------------------- */

static const char *shares_text(hf_document *d, double low, double high) {
    const char *least = hf_show_text(d, HF_AS_SHARE_ROUGH, low),
               *most = hf_show_text(d, HF_AS_SHARE_ROUGH, high);
    return low == high ? least : or_dash(hf_arena_format(d->arena, "%s–%s", least, most));
}

static const char *chance_text(hf_document *d, const hf_comparison_pair *pair) {
    const hf_outlasts *o = &pair->outlasts;
    if (pair->outlasts_available && isfinite(o->low))
        return or_dash(hf_arena_format(d->arena, "%s (%s)", hf_show_text(d, HF_AS_SHARE_ROUGH, o->chance),
                                       shares_text(d, o->low, o->high)));
    if (pair->outlasts_available) return hf_show_text(d, HF_AS_SHARE_ROUGH, o->chance);
    if (isnan(pair->least)) return "-";
    const char *shares = shares_text(d, pair->least, pair->most);
    if (isnan(pair->fitted_chance)) return shares;
    return or_dash(hf_arena_format(d->arena, "%s [%s]",
                                   hf_show_text(d, HF_AS_SHARE_ROUGH, pair->fitted_chance), shares));
}

static const char *quantile_text(hf_document *d, const hf_comparison_pair *pair) {
    const hf_quantile_difference *q = &pair->quantile;
    if (!pair->quantile_available) return "-";
    if (isnan(q->ratio) || isinf(q->ratio_high)) return hf_show_text(d, HF_AS_ROUGH, q->difference);
    if (isnan(q->ratio_high)) return hf_show_text(d, HF_AS_NUMBER, q->ratio);
    return or_dash(hf_arena_format(d->arena, "%s (%s)", hf_show_text(d, HF_AS_NUMBER, q->ratio),
                                   range_text(d, q->ratio_low, q->ratio_high, 3)));
}

static const char *simultaneous_text(hf_document *d, const hf_comparison_pair *pair) {
    if (!pair->games_howell_available) return "-";
    return range_text(d, exp(pair->games_howell.low), exp(pair->games_howell.high), 3);
}

void hf_compare_beside(hf_document *d, const hf_comparison *result) {
    const char *const header[] = {
        "pair", "test", ">weak parts", ">outlasts", ">alike", result->count > 2 ? ">at once" : NULL, NULL};
    if (result->options.verdicts_only) return;
    hf_document_add(d, HF_BLOCK_HEADING, "What else the pulls say");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < result->pair_count; i++) {
        const hf_comparison_pair *pair = &result->pairs[i];
        if (pair->method == HF_COMPARISON_NONE) continue;
        const char *cells[] = {pair_name(d, result, pair),
                               method_words(pair->method),
                               quantile_text(d, pair),
                               chance_text(d, pair),
                               hf_compare_p(d, pair->p_spread),
                               simultaneous_text(d, pair),
                               NULL};
        hf_document_row(d, table, cells);
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "weak parts: ratio of the loads that %s of all parts carry, with its interval. outlasts: the "
        "chance that a part of the first outlasts one "
        "of the second; with unfinished pulls by the fitted %s laws, and in brackets the shares of "
        "pairs that it surely and possibly wins (one figure where both are the same). alike: p that both "
        "scatter alike in per cent.%s%s",
        hf_show_text(d, HF_AS_CONFIDENCE, result->pairs[0].quantile.content), hf_family_lognormal.label,
        hf_compare_any_method(result, HF_COMPARISON_BATCH_MEANS)
            ? " Where batch means decide, what takes each part for itself stands without interval and p."
            : "",
        result->count > 2
            ? " at once: intervals of the ratio that hold for all pairs together (Games–Howell)."
            : "");
}

/* --- Ways of failing --------------------------------------------------------------------------------- */

static bool rests_on_undivided(const hf_comparison_design *design) {
    const hf_bound *governing = design->event.governing;
    return governing && governing->value == design->modes.undivided;
}

static const char *load_or_none(hf_document *d, double bound) {
    return bound <= 0 ? "nothing" : hf_bound_load(d, bound);
}

static void modes_sentence(hf_document *d, const hf_comparison_design *design) {
    const hf_design_modes *modes = &design->modes;
    const char *share = hf_show_text(d, HF_AS_SHARE_STATED, design->content);
    if (!modes->available) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "No bound by ways of failing: none has the two failures it needs.");
        return;
    }
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "All fitted ways of failing together: %s of the parts carry %s; without telling them "
                     "apart %s (%s law%s).",
                     share, load_or_none(d, modes->result.bound), load_or_none(d, modes->undivided),
                     modes->result.family->label,
                     hf_law_rejected(&design->event, modes->result.family) ? ", rejected" : "");
    if (modes->result.bound < modes->undivided)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The bound by ways of failing is lower because each is known from its own failures only.%s Where "
            "they may come in other shares than here, only the lower one holds; more parts, above all "
            "those that fail in the rare ways, bring the two together.",
            rests_on_undivided(design) ? " A working load rests on the other, which takes the pulls as "
                                         "they came."
                                       : "");
}

void hf_compare_modes_table(hf_document *d, const hf_comparison_design *design) {
    const char *const header[] = {"way of failing",
                                  ">failures",
                                  ">share",
                                  load_header(d, "its bound"),
                                  load_header(d, "part without it"),
                                  NULL};
    const hf_modes *modes = &design->modes.result;
    hf_document_addf(d, HF_BLOCK_HEADING, "How %s breaks", hf_design_name(d, design->design));
    if (modes->count == 1) {
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "One way of failing: %s, in all %zu failures.",
                         design->modes.names[0] ? hf_cut_text(d, design->modes.names[0], HF_NAME_COLUMNS)
                                                : "not stated",
                         modes->modes[0].failures);
        return;
    }
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < modes->count; i++) {
        const hf_mode_result *mode = &modes->modes[i];
        const char *cells[] = {
            design->modes.names[i] ? hf_cut_text(d, design->modes.names[i], HF_NAME_COLUMNS) : "not stated",
            or_dash(hf_arena_format(d->arena, "%zu", mode->failures)),
            hf_show_text(d, HF_AS_SHARE_ROUGH, mode->share),
            mode->fitted ? hf_bound_cell(d, mode->bound.value) : "-",
            hf_bound_cell(d, mode->without),
            NULL};
        hf_document_row(d, table, cells);
    }
    modes_sentence(d, design);
}

void hf_compare_modes_tables(hf_document *d, const hf_comparison *result) {
    bool any = false;
    for (size_t i = 0; i < result->count; i++) {
        const hf_comparison_design *design = &result->designs[i];
        if (design->modes.result.count == 0) continue;
        hf_compare_modes_table(d, design);
        any |= design->modes.result.count > 1;
    }
    if (any)
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "its bound: what its weak spot alone would carry. part without it: the bound by ways of failing "
            "if this one were designed out and nothing else changed; compare it with the bound of all "
            "fitted ones together. A rig failure is never a way of failing.");
}

/* --- Two ends ---------------------------------------------------------------------------------------- */

static void naive_sentence(hf_document *d, const hf_comparison_ends *ends) {
    if (isnan(ends->median) || isnan(ends->naive_median)) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Typical strength of one fitting %s. Read as if each part were one fitting it would be "
                     "%s: a part with two breaks at the weaker one.",
                     hf_show_text(d, HF_AS_MEAN, ends->median),
                     hf_show_text(d, HF_AS_MEAN, ends->naive_median));
}

void hf_ends_table(hf_document *d, const hf_design *design, const hf_comparison_ends *ends) {
    const char *const header[] = {"fittings in a row", load_header(d, "bound"), NULL};
    hf_document_addf(d, HF_BLOCK_HEADING, "One %s, and several in a row", hf_design_name(d, design));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu two-ended parts held %zu of these fittings: %zu broke, %zu stayed whole.",
                     ends->pulls, ends->ends, ends->broke, ends->whole);
    hf_block *table = hf_document_table(d, header);
    for (size_t k = 1; k <= HF_IN_A_ROW; k++) {
        const char *cells[] = {k == 1 ? "a single one" : or_dash(hf_arena_format(d->arena, "%zu", k)),
                               hf_bound_cell(d, ends->rows[k - 1].value), NULL};
        hf_document_row(d, table, cells);
    }
    naive_sentence(d, ends);
}

void hf_compare_ends_tables(hf_document *d, const hf_comparison *result) {
    for (size_t i = 0; i < result->count; i++)
        if (result->designs[i].two_ended)
            hf_ends_table(d, result->designs[i].design, &result->designs[i].ends);
}
