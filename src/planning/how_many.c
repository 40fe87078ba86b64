#include "holdfast/planning/how_many.h"

#include <math.h>
#include "planning/how_many.h"

static const double default_assurance = 0.80, worth_a_part = 0.01, often_open = 0.01, most_outlast = 0.5,
                    most_broken = 0.5, often_below = 0.05, most_without = 0.05;
enum { DEFAULT_MOST = 30, TABLE_MOST = 1000 };
enum { REPLICATES = 4000, OPEN_REPLICATES = 400, LEAST_REPLICATES = 200, MOST_REPLICATES = 10000000 };
/* Open samples that may be worked out: the general conditional limit takes a millisecond, the short Weibull one a fiftieth. */
enum { SLOW_SAMPLES = 3000, QUICK_SAMPLES = 100000 };

static const char *const reason_codes[] = {"assured",      "not_assured",     "above_quantile",
                                           "levelled",     "only_one",        "not_broken",
                                           "still_rising", "broken_at_first", "no_bound"};

const char *hf_how_many_reason_code(hf_how_many_reason reason) {
    return reason_codes[reason];
}

static hf_status complete(hf_how_many_setup *setup) {
    setup->family = hf_family_governing(setup->family);
    if (!setup->law) setup->law = setup->family;
    if (setup->assurance == 0) setup->assurance = default_assurance;
    if (setup->most == 0) setup->most = DEFAULT_MOST;
    if (setup->most < hf_how_many_first(setup) || setup->most > TABLE_MOST ||
        setup->replicates > MOST_REPLICATES)
        return HF_RANGE;
    if (!(setup->assurance > 0 && setup->assurance < 1)) return HF_RANGE;
    return hf_bound_range(setup->content, setup->confidence, setup->loads != NULL);
}

static void start_rows(const hf_how_many_setup *setup, const hf_bench_rule *rule, hf_how_many_row *rows) {
    size_t first = hf_how_many_first(setup);
    for (size_t n = first; n <= setup->most; n++) {
        hf_how_many_row *row = &rows[n - first];
        row->n = n;
        row->k = n < HF_LEAST_PARTS ? NAN : rule->k[n];
        row->k_error = n < HF_LEAST_PARTS ? NAN : rule->k_error[n];
        if (setup->scatter &&
            hf_stated_factor(n, *setup->scatter, rule->content, rule->confidence, &row->k) == HF_OK)
            row->k_error = 0;
        row->minutes = (double)n * setup->minutes_per_pull;
        row->assurance = row->assurance_error = NAN;
    }
}

static size_t choose_replicates(const hf_bench *bench, size_t most) {
    double open = hf_bench_open_share(bench), samples = 0;
    /* Where many parts break at the first rung, the short way to the Weibull limit no longer serves. */
    bool quick =
        bench->rule.family->limit_by_mixture && bench->law.family->lower(bench->threshold[0]) < often_below;
    for (size_t n = HF_LEAST_PARTS; n <= most; n++) samples += 1 - pow(1 - open, (double)n);
    double affordable = (quick ? QUICK_SAMPLES : SLOW_SAMPLES) / fmax(samples, 1e-9);
    size_t wanted = open > often_open ? OPEN_REPLICATES : REPLICATES;
    if (affordable >= (double)wanted) return wanted;
    return affordable > LEAST_REPLICATES ? (size_t)affordable : LEAST_REPLICATES;
}

static hf_status fill(hf_arena *arena, const hf_how_many_setup *setup, const hf_guess *law,
                      hf_how_many_row *rows, hf_how_many *out) {
    size_t sizes[2] = {HF_LEAST_PARTS, setup->most};
    hf_bench_rule rule;
    hf_bench bench;
    double least = setup->family->log_scale && !law->family->log_scale ? 1e-3 * law->mean : 0;
    hf_bench_ladder ladder = {setup->loads, setup->load_count, setup->tare, least, INFINITY};
    hf_status status = hf_bench_rule_start(arena, setup->family, hf_planning_method_find("formula"),
                                           setup->content, setup->confidence, sizes, &rule);
    if (status == HF_OK) status = hf_bench_rule_scatter(arena, setup->scatter, setup->most, &rule);
    if (status != HF_OK) return status;
    start_rows(setup, &rule, rows);
    out->exact = hf_how_many_is_closed(setup);
    if (out->exact) {
        for (size_t i = 0; i < out->count && !isnan(setup->required); i++) rows[i].assurance_error = 0;
        return hf_how_many_closed(setup, law, &rule, rows);
    }
    status = hf_bench_start(arena, law, &ladder, &rule, &bench);
    if (status != HF_OK) return status;
    out->open_share = hf_bench_open_share(&bench);
    out->replicates = setup->replicates ? setup->replicates : choose_replicates(&bench, setup->most);
    return hf_how_many_simulated(arena, setup, &bench, out->replicates, rows);
}

static bool mostly_bounded(const hf_how_many_row *row) {
    return row->without_bound <= most_without;
}

static bool breaks_at_first(const hf_how_many_setup *setup, const hf_guess *law) {
    return setup->loads && 1 - hf_guess_stronger(law, setup->loads[0]) > most_broken;
}

static void recommend_for_requirement(const hf_how_many_setup *setup, const hf_guess *law, hf_how_many *out) {
    out->reason = HF_PARTS_NOT_ASSURED;
    if (setup->required > out->true_quantile)
        out->reason = HF_PARTS_IMPOSSIBLE;
    else if (breaks_at_first(setup, law))
        out->reason = HF_PARTS_BROKEN_AT_FIRST;
    else if (out->count == 0)
        out->reason = HF_PARTS_ONLY_ONE;
    if (out->reason != HF_PARTS_NOT_ASSURED) return;
    for (size_t i = 0; i < out->count; i++) {
        if (!(out->rows[i].assurance >= setup->assurance)) continue;
        out->reason = HF_PARTS_NO_BOUND;
        if (!mostly_bounded(&out->rows[i])) continue;
        out->recommended = out->rows[i].n;
        out->reason = HF_PARTS_ASSURED;
        return;
    }
}

/* The row from which on no further one lifts the best bound so far by what a part is worth; the last where the last still does. A
 * stated scatter can make fewer parts the better ones where the pulls contradict it, hence the best so far and not the row before. */
static size_t levelled_row(const hf_how_many_setup *setup, const hf_how_many *out) {
    double best = out->rows[0].expected;
    size_t level = 0;
    for (size_t i = 1; i < out->count; i++) {
        double gain = out->rows[i].expected - best;
        if (!(gain < worth_a_part * setup->mean)) level = i;
        best = fmax(best, out->rows[i].expected);
    }
    return level;
}

static void recommend_the_level(const hf_how_many_setup *setup, const hf_guess *law, hf_how_many *out) {
    if (setup->loads && hf_guess_stronger(law, setup->loads[setup->load_count - 1]) > most_outlast)
        out->reason = HF_PARTS_NOT_BROKEN;
    else if (breaks_at_first(setup, law))
        out->reason = HF_PARTS_BROKEN_AT_FIRST;
    else if (out->count == 0)
        out->reason = HF_PARTS_ONLY_ONE;
    else {
        size_t level = levelled_row(setup, out);
        out->reason = level + 1 < out->count ? HF_PARTS_LEVELLED : HF_PARTS_STILL_RISING;
        if (mostly_bounded(&out->rows[level]))
            out->recommended = out->rows[level].n;
        else
            out->reason = HF_PARTS_NO_BOUND;
    }
}

static void recommend(const hf_how_many_setup *setup, const hf_guess *law, hf_how_many *out) {
    out->recommended = 0;
    if (isnan(setup->required))
        recommend_the_level(setup, law, out);
    else
        recommend_for_requirement(setup, law, out);
}

hf_status hf_how_many_parts(hf_arena *arena, const hf_how_many_setup *setup, hf_how_many *out) {
    hf_how_many_setup whole = *setup;
    hf_guess law;
    *out = (hf_how_many){0};
    hf_status status = complete(&whole);
    if (status == HF_OK) status = hf_guess_of(whole.law, whole.mean, whole.cv, &law);
    if (status != HF_OK) return status;
    size_t first = hf_how_many_first(&whole), all = whole.most - first + 1;
    hf_how_many_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_how_many_row, all);
    if (!rows) return HF_MEMORY;
    out->rows = rows + (HF_LEAST_PARTS - first);
    out->count = all - (HF_LEAST_PARTS - first);
    out->one = first == 1 ? rows : NULL;
    out->by_scatter = whole.scatter ? whole.most : 0;
    out->true_quantile = hf_guess_quantile(&law, 1 - whole.content);
    status = fill(arena, &whole, &law, rows, out);
    if (status != HF_OK) return status;
    for (size_t i = 0; i < all; i++) rows[i].share = rows[i].expected / whole.mean;
    recommend(&whole, &law, out);
    return HF_OK;
}
