/* The one record that takes the bound down: which, and what the bound would be without it. It is named and nothing more. */
#include <math.h>
#include "holdfast/strength/order_statistic.h"
#include "holdfast/strength/stated_scatter.h"
#include "study/event.h"
#include "study/limits.h"

/* The bound of the sample in the same way as the one that governs; NaN: none. */
static hf_status bound_again(const hf_event_request *request, const hf_bound *like, hf_sample sample,
                             double *value) {
    const hf_stated_scatter stated = hf_scatter_stated(&request->design->scatter);
    hf_status status = HF_NO_RESULT;
    hf_bound again = {.value = NAN};
    if (like->method == HF_BOUND_STATED_SCATTER)
        status = hf_bound_stated_scatter(sample, stated, NULL, like->content, like->confidence, &again);
    else if (like->method == HF_BOUND_ORDER_STATISTIC)
        status = hf_bound_order_statistic(sample, like->content, like->confidence, &again);
    else if (like->method == HF_BOUND_HANSON_KOOPMANS)
        status = hf_bound_hanson_koopmans(sample, like->content, like->confidence, &again);
    else if (like->family)
        status = hf_bound_family(like->family, sample, like->content, like->confidence, &again);
    *value = status == HF_OK ? again.value : NAN;
    return status == HF_MEMORY ? status : HF_OK;
}

static double width(const hf_observation *item) {
    return item->kind == HF_INTERVAL_CLOSED ? log(item->upper / item->lower) : 0;
}

/* Only the weakest and the least exactly known can take a bound down: the one with the lowest upper end, the first by lower ends, the widest. */
enum { SUSPECTS = 3 };

static void find_suspects(hf_sample sample, size_t at[SUSPECTS]) {
    at[0] = at[1] = at[2] = 0;
    for (size_t i = 1; i < sample.count; i++) {
        if (sample.items[i].upper < sample.items[at[1]].upper) at[1] = i;
        if (width(&sample.items[i]) > width(&sample.items[at[2]])) at[2] = i;
    }
}

static void copy_without(hf_sample sample, size_t left_out, hf_observation *out) {
    for (size_t i = 0, k = 0; i < sample.count; i++)
        if (i != left_out) out[k++] = sample.items[i];
}

/* The suspect without which the bound found in the same way is highest, and that bound; sample.count: none lifts it far. `items` holds a
 * sample. */
static hf_status find_suspect(const hf_event_request *request, const hf_bound *like, hf_sample sample,
                              hf_observation *items, size_t *out) {
    size_t suspects[SUSPECTS];
    double most = fmax(like->value, 0) * HF_ONE_RECORD_GAIN, value;
    *out = sample.count;
    find_suspects(sample, suspects);
    for (size_t i = 0; i < SUSPECTS; i++) {
        bool met = (i > 0 && suspects[i] == suspects[0]) || (i > 1 && suspects[i] == suspects[1]);
        if (met) continue;
        copy_without(sample, suspects[i], items);
        if (bound_again(request, like, (hf_sample){items, sample.count - 1}, &value) == HF_MEMORY)
            return HF_MEMORY;
        if (!(value > most)) continue;
        most = value;
        *out = suspects[i];
    }
    return HF_OK;
}

hf_status hf_name_one_record(hf_arena *arena, const hf_event_request *request, const hf_pulled *pulled,
                             hf_event_assessment *out) {
    const hf_sample sample = pulled->sample;
    const hf_bound *governing = out->governing,
                   *like = out->without_batches ? out->without_batches : governing;
    size_t suspect;
    double without;
    out->without_one = NAN;
    if (!governing || sample.count < HF_ONE_RECORD_PARTS) return HF_OK;
    hf_observation *items = HF_ARENA_NEW_ARRAY(arena, hf_observation, sample.count);
    if (!items || find_suspect(request, like, sample, items, &suspect) != HF_OK) return HF_MEMORY;
    if (suspect == sample.count) return HF_OK;
    copy_without(sample, suspect, items);
    if (hf_event_bound_of(arena, request, (hf_sample){items, sample.count - 1}, &without) != HF_OK)
        return HF_MEMORY;
    if (!(without > fmax(governing->value, 0) * HF_ONE_RECORD_GAIN)) return HF_OK;
    out->one_record = pulled->specimens[suspect];
    out->without_one = without;
    return HF_OK;
}
