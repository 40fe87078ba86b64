/* The order of pulling, and what strength does along it. */
#include <ctype.h>
#include <math.h>
#include "study/event.h"

/* "2026-05-02T08:30:15" as 20260502083015; NaN without a time of day. */
static double moment_of(const char *date) {
    enum { DAY_DIGITS = 8, MOMENT_DIGITS = 14 };
    double out = 0;
    int digits = 0;
    for (; date && *date; date++) {
        if (!isdigit((unsigned char)*date)) continue;
        out = 10 * out + (*date - '0');
        digits++;
    }
    if (digits <= DAY_DIGITS) return NAN;
    for (; digits < MOMENT_DIGITS; digits++) out *= 10;
    return out;
}

double hf_pulling_place(const hf_specimen *specimen, hf_pulling_order by) {
    if (by == HF_ORDER_BY_DATE) return moment_of(specimen->date);
    return specimen->order.given ? specimen->order.value : NAN;
}

static bool all_state(const hf_specimen *const *specimens, size_t count, hf_pulling_order by) {
    for (size_t i = 0; i < count; i++)
        if (isnan(hf_pulling_place(specimens[i], by))) return false;
    return count > 0;
}

hf_pulling_order hf_pulling_order_of(const hf_specimen *const *specimens, size_t count) {
    return all_state(specimens, count, HF_ORDER_BY_KEY)    ? HF_ORDER_BY_KEY
           : all_state(specimens, count, HF_ORDER_BY_DATE) ? HF_ORDER_BY_DATE
                                                           : HF_ORDER_NOT_STATED;
}

/* The load a part is ranked by: the middle of its step, or the one end that is known. Any such score keeps a test by orders exact. */
static double score_of(const hf_observation *seen) {
    if (seen->kind == HF_INTERVAL_ABOVE) return seen->lower;
    return seen->kind == HF_INTERVAL_BELOW ? seen->upper : 0.5 * (seen->lower + seen->upper);
}

hf_status hf_trend_of_pulls(hf_arena *arena, const hf_pulled *pulled, bool failed_only,
                            hf_event_assessment *out) {
    const hf_sample sample = pulled->sample;
    double *y = HF_ARENA_NEW_ARRAY(arena, double, 2 * sample.count + 1), *place = y + sample.count;
    size_t count = 0;
    if (!y) return HF_MEMORY;
    out->order = hf_pulling_order_of(pulled->specimens, sample.count);
    for (size_t i = 0; i < sample.count; i++) {
        double score = score_of(&sample.items[i]);
        if (!(score > 0) || (failed_only && sample.items[i].kind == HF_INTERVAL_ABOVE)) continue;
        y[count] = log(score);
        place[count++] = hf_pulling_place(pulled->specimens[i], out->order);
    }
    if (out->order == HF_ORDER_NOT_STATED) {
        out->trend = (hf_trend_test){.reason = "order_not_stated", .parts = count, .slope = NAN};
        out->trend.first_to_last = out->trend.significance = NAN;
        return HF_OK;
    }
    return hf_trend_test_values(y, place, count, &out->trend) == HF_MEMORY ? HF_MEMORY : HF_OK;
}
