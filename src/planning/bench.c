#include "planning/bench.h"

#include <math.h>
#include <string.h>
#include "holdfast/numeric/vector.h"
#include "numeric/kernel.h"
#include "planning/memo.h"

hf_status hf_bench_rule_start(hf_arena *arena, const hf_family *family, const hf_planning_method *method,
                              double content, double confidence, const size_t sizes[2], hf_bench_rule *out) {
    double *k = HF_ARENA_NEW_ARRAY(arena, double, sizes[1] + 1);
    double *error = HF_ARENA_NEW_ARRAY(arena, double, sizes[1] + 1);
    double *allowance = HF_ARENA_NEW_ARRAY(arena, double, sizes[1] + 1);
    if (!k || !error || !allowance) return HF_MEMORY;
    if (!hf_family_may_govern(family)) return HF_NO_RESULT;
    for (size_t n = sizes[0]; n <= sizes[1] && !method->bound; n++) {
        hf_status status = family->factor(n, content, confidence, &k[n], &error[n]);
        if (status != HF_OK) return status;
        allowance[n] =
            isnan(method->allowance) ? hf_bound_allowance(family, content, k[n]) : method->allowance;
    }
    *out = (hf_bench_rule){.family = family,
                           .method = method,
                           .content = content,
                           .confidence = confidence,
                           .k = k,
                           .k_error = error,
                           .allowance = allowance};
    return HF_OK;
}

hf_status hf_bench_rule_scatter(hf_arena *arena, const hf_stated_scatter *scatter, size_t most,
                                hf_bench_rule *rule) {
    rule->governing = true;
    rule->scatter = (hf_governing_scatter){scatter, NULL, 0};
    if (!scatter || isinf(scatter->degrees_of_freedom)) return HF_OK;
    hf_scatter_factors *factors = HF_ARENA_NEW_ARRAY(arena, hf_scatter_factors, most + 1);
    if (!factors) return HF_MEMORY;
    for (size_t n = 1; n <= most; n++) {
        hf_status status = hf_scatter_factors_of(hf_past_scatter_of(*scatter), n, rule->content,
                                                 rule->confidence, &factors[n]);
        if (status != HF_OK) return status;
    }
    rule->scatter.factors = factors;
    rule->scatter.hands_over = hf_scatter_hands_over(*scatter, rule->content, rule->confidence, most);
    return HF_OK;
}

/* Steps 1 … last − 1: (loads[i − 1], loads[i]]. Steps 0 and last are open; their y is any number. */
static void fill_steps(hf_bench *bench) {
    const double *loads = bench->ladder.loads;
    const hf_family *family = bench->rule.family;
    for (size_t i = 0; i <= bench->last; i++) {
        size_t step = i == 0 ? 1 : i == bench->last ? i - 1 : i;
        if (bench->last < 2) break;
        double low = hf_family_working(family, loads[step - 1]),
               high = hf_family_working(family, loads[step]);
        double width = high - low, position = bench->rule.method->position;
        bench->y[i] = position == 0.5 ? 0.5 * (low + high) : low + position * width;
        bench->square[i] = width * width;
    }
}

static hf_status check_loads(const hf_bench *bench) {
    const hf_bench_ladder *ladder = &bench->ladder;
    bool positive = bench->law.family->log_scale || bench->rule.family->log_scale;
    if (ladder->count < 1 || ladder->count > HF_BENCH_MOST_LOADS) return HF_RANGE;
    if (positive && !(ladder->loads[0] > 0)) return HF_RANGE;
    for (size_t i = 1; i < ladder->count; i++)
        if (!(ladder->loads[i] > ladder->loads[i - 1])) return HF_RANGE;
    return HF_OK;
}

static double standard(const hf_guess *law, double load) {
    if (law->family->log_scale && load <= 0) return -INFINITY;
    return (hf_family_working(law->family, load) - law->m) / law->s;
}

hf_status hf_bench_start(hf_arena *arena, const hf_guess *law, const hf_bench_ladder *ladder,
                         const hf_bench_rule *rule, hf_bench *out) {
    *out = (hf_bench){.law = *law, .ladder = *ladder, .rule = *rule, .last = 2};
    size_t count = 2;
    if (ladder->loads) {
        if (check_loads(out) != HF_OK) return HF_RANGE;
        out->last = count = ladder->count;
    }
    for (out->half = 1; 2 * out->half - 1 < count; out->half *= 2) {
    }
    size_t padded = 2 * out->half - 1;
    out->threshold = HF_ARENA_NEW_ARRAY(arena, double, padded);
    out->y = HF_ARENA_NEW_ARRAY(arena, double, count + 1);
    out->square = HF_ARENA_NEW_ARRAY(arena, double, count + 1);
    if (!out->threshold || !out->y || !out->square) return HF_MEMORY;
    for (size_t i = 0; i < padded; i++) out->threshold[i] = INFINITY;
    if (ladder->loads) {
        for (size_t i = 0; i < count; i++) out->threshold[i] = standard(law, ladder->loads[i]);
        fill_steps(out);
    } else {
        out->threshold[0] =
            ladder->first > 0 || law->family->log_scale ? standard(law, ladder->first) : -INFINITY;
        out->threshold[1] = isfinite(ladder->stop) ? standard(law, ladder->stop) : INFINITY;
    }
    return HF_OK;
}

hf_status hf_bench_lanes_start(hf_arena *arena, size_t rows, size_t memo_slots, hf_bench_lanes *out) {
    size_t count = rows * HF_LANES;
    *out = (hf_bench_lanes){.rows = rows};
    out->z = HF_ARENA_NEW_ARRAY(arena, double, count);
    out->y = HF_ARENA_NEW_ARRAY(arena, double, count);
    out->square = HF_ARENA_NEW_ARRAY(arena, double, count);
    out->work = HF_ARENA_NEW_ARRAY(arena, double, count);
    out->step = HF_ARENA_NEW_ARRAY(arena, uint32_t, count);
    out->sorted = HF_ARENA_NEW_ARRAY(arena, uint32_t, rows);
    out->items = HF_ARENA_NEW_ARRAY(arena, hf_observation, rows);
    if (!out->z || !out->y || !out->square || !out->work || !out->step || !out->sorted || !out->items)
        return HF_MEMORY;
    return hf_bench_memo_start(arena, rows <= HF_MEMO_PARTS ? memo_slots : 0, &out->memo);
}

/* Number of thresholds below z, by a search without jumps. */
HF_VECTOR_CLONES
static void find_steps(const double *threshold, size_t half, const double *z, uint32_t *step, size_t count) {
    for (size_t i = 0; i < count; i++) step[i] = 0;
    for (size_t width = half; width > 0; width /= 2)
        for (size_t i = 0; i < count; i++)
            step[i] += threshold[step[i] + width - 1] < z[i] ? (uint32_t)width : 0U;
}

static void read_values(const hf_bench *bench, const double *z, double *y, size_t count) {
    bool from_log = bench->law.family->log_scale, to_log = bench->rule.family->log_scale;
    for (size_t i = 0; i < count; i++) y[i] = bench->law.m + bench->law.s * z[i];
    if (from_log && !to_log) hf_vector_exp(y, y, count);
    if (!from_log && to_log) hf_vector_log(y, y, count);
}

void hf_bench_pull(const hf_bench *bench, hf_bench_lanes *lanes, size_t from, size_t to) {
    size_t start = from * HF_LANES, count = (to - from) * HF_LANES;
    double *y = lanes->y + start, *square = lanes->square + start;
    uint32_t *step = lanes->step + start;
    find_steps(bench->threshold, bench->half, lanes->z + start, step, count);
    if (bench->ladder.loads) {
        for (size_t i = 0; i < count; i++) y[i] = bench->y[step[i]];
        for (size_t i = 0; i < count; i++) square[i] = bench->square[step[i]];
        return;
    }
    read_values(bench, lanes->z + start, y, count);
    for (size_t i = 0; i < count; i++) square[i] = 0;
    for (size_t i = 0; i < count; i++)
        if (step[i] != 1)
            y[i] = bench->law.family->log_scale == bench->rule.family->log_scale ? bench->law.m : 0;
}

hf_observation hf_bench_observation(const hf_bench *bench, uint32_t step, double y) {
    const hf_bench_ladder *ladder = &bench->ladder;
    hf_observation item = {HF_INTERVAL_CLOSED, 0, 0, false, -1};
    bool stepped = ladder->loads != NULL;
    if (step == 0) {
        item.kind = HF_INTERVAL_BELOW;
        item.lower = ladder->tare;
        item.upper = stepped ? ladder->loads[0] : ladder->first;
    } else if (step == bench->last) {
        item.kind = HF_INTERVAL_ABOVE;
        item.lower = stepped ? ladder->loads[step - 1] : ladder->stop;
        item.upper = INFINITY;
    } else if (stepped) {
        item.lower = ladder->loads[step - 1];
        item.upper = ladder->loads[step];
    } else {
        item.kind = HF_INTERVAL_EXACT;
        item.lower = item.upper = hf_family_load(bench->rule.family, y);
    }
    return item;
}

static double sample_bound(const hf_bench *bench, hf_sample sample) {
    const hf_bench_rule *rule = &bench->rule;
    hf_bound bound;
    hf_status status;
    if (rule->method->bound)
        status = rule->method->bound(sample, rule->content, rule->confidence, &bound);
    else if (!isnan(rule->method->allowance))
        return NAN; /* these have no answer for open pulls */
    else if (rule->governing)
        status =
            hf_governing_bound(rule->family, sample, rule->scatter, rule->content, rule->confidence, &bound);
    else
        status = hf_bound_family(rule->family, sample, rule->content, rule->confidence, &bound);
    return status == HF_OK ? hf_family_working(rule->family, bound.value) : NAN;
}

static void sort_steps(uint32_t *step, size_t n) {
    for (size_t i = 1; i < n; i++) {
        uint32_t moved = step[i];
        size_t j = i;
        for (; j > 0 && step[j - 1] > moved; j--) step[j] = step[j - 1];
        step[j] = moved;
    }
}

/* One lane the long way. On a ladder only the counts per step matter, so the parts are put in order and the answer is remembered. */
static double long_way(const hf_bench *bench, hf_bench_lanes *lanes, size_t lane, size_t n,
                       const hf_bench_before *before) {
    size_t done = before ? before->sample.count : 0;
    bool stepped = bench->ladder.loads != NULL;
    double remembered;
    for (size_t i = done; i < n; i++) lanes->sorted[i] = lanes->step[i * HF_LANES + lane];
    if (stepped) sort_steps(lanes->sorted + done, n - done);
    bool memo = stepped && !before && lanes->memo.slots > 0;
    if (memo && hf_bench_memo_find(&lanes->memo, lanes->sorted, n, &remembered)) return remembered;
    if (done) memcpy(lanes->items, before->sample.items, done * sizeof *lanes->items);
    for (size_t i = done; i < n; i++)
        lanes->items[i] = hf_bench_observation(bench, lanes->sorted[i], lanes->y[i * HF_LANES + lane]);
    double value = sample_bound(bench, (hf_sample){lanes->items, n});
    if (memo) hf_bench_memo_keep(&lanes->memo, lanes->sorted, n, value);
    return value;
}

static void find_open(const hf_bench *bench, const hf_bench_lanes *lanes, size_t from, size_t to,
                      bool open[HF_LANES]) {
    uint32_t last = (uint32_t)bench->last;
    for (size_t i = from; i < to; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) {
            uint32_t step = lanes->step[i * HF_LANES + lane];
            open[lane] |= (step == 0) | (step == last);
        }
}

/* m − k·√(s² + A·h²) of all lanes as if no pull were open. */
static void short_way(const hf_bench *bench, hf_bench_lanes *lanes, size_t n, const hf_bench_before *before,
                      double out[HF_LANES]) {
    size_t done = before ? before->sample.count : 0;
    double sum[HF_LANES], m[HF_LANES], s[HF_LANES], closed = before ? (double)before->closed : 0;
    double k = bench->rule.k[n], allowance = bench->rule.allowance[n];
    if (bench->ladder.loads) closed += (double)(n - done);
    for (size_t lane = 0; lane < HF_LANES; lane++) sum[lane] = before ? before->square : 0;
    for (size_t i = done; i < n; i++)
        for (size_t lane = 0; lane < HF_LANES; lane++) sum[lane] += lanes->square[i * HF_LANES + lane];
    bench->rule.family->estimate_lanes(lanes->y, n, lanes->work, m, s);
    double share = closed > 0 ? allowance / closed : 0;
    for (size_t lane = 0; lane < HF_LANES; lane++)
        out[lane] = m[lane] - k * sqrt(s[lane] * s[lane] + share * sum[lane]);
}

void hf_bench_bounds(const hf_bench *bench, hf_bench_lanes *lanes, size_t n, const hf_bench_before *before,
                     double out[HF_LANES]) {
    bool open[HF_LANES] = {false};
    bool always =
        bench->rule.method->bound != NULL || (before && before->open) || bench->rule.scatter.stated != NULL;
    find_open(bench, lanes, before ? before->sample.count : 0, n, open);
    if (!always) short_way(bench, lanes, n, before, out);
    for (size_t lane = 0; lane < HF_LANES; lane++) {
        lanes->open += open[lane];
        if (open[lane] || always) out[lane] = long_way(bench, lanes, lane, n, before);
    }
}

double hf_bench_open_share(const hf_bench *bench) {
    const hf_family *family = bench->law.family;
    size_t top = bench->ladder.loads ? bench->last - 1 : 1;
    return family->lower(bench->threshold[0]) + family->upper(bench->threshold[top]);
}
