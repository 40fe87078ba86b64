/* Which bound of an event leads. */
#include <math.h>
#include "holdfast/strength/batch_bound.h"
#include "study/event.h"

/* The row of a law's own bound, where it gives one. */
static const hf_bound *find_by_law(const hf_event_assessment *event, const hf_family *family) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (event->bounds[i].family == family && event->bounds[i].method != HF_BOUND_NONE)
            return &event->bounds[i];
    return NULL;
}

static const hf_bound *find_method(const hf_event_assessment *event, hf_bound_method method) {
    for (size_t i = 0; i < event->bound_count; i++)
        if (event->bounds[i].method == method) return &event->bounds[i];
    return NULL;
}

/* The bound that needs no law: by order where there are parts enough for one, else for a wide class of laws. */
static const hf_bound *free_of_law(const hf_event_assessment *event) {
    const hf_bound *by_order = find_method(event, HF_BOUND_ORDER_STATISTIC);
    return by_order ? by_order : find_method(event, HF_BOUND_HANSON_KOOPMANS);
}

bool hf_law_rejected(const hf_event_assessment *event, const hf_family *family) {
    size_t at = hf_family_index(family);
    return at < HF_FAMILY_COUNT && event->tests[at].available && event->tests[at].rejected;
}

/* A law that the pulls reject governs nothing alone: the lower of its bound and the one that needs no law leads. */
static void take_rejected(const hf_bound *by_law, hf_event_assessment *event) {
    const hf_bound *without = free_of_law(event);
    event->rejected_law = event->governing = by_law;
    event->not_assured = !without;
    event->governing_reason = HF_GOVERNS_LAW_NOT_ASSURED;
    if (!without) return;
    if (without->value < by_law->value) {
        event->governing = without;
        event->governing_reason = HF_GOVERNS_FREE_LOWER;
    } else {
        event->confirming = without;
        event->governing_reason = HF_GOVERNS_LAW_LOWER;
    }
}

/* The next batch may be weaker than these: the bound from batch means leads where it is the lower one. Never alone, and not against a
 * scatter stated for this kind of part, in which batches are counted. */
static void take_batches(hf_event_assessment *event) {
    const hf_bound *batch = find_method(event, HF_BOUND_BATCH), *governing = event->governing;
    if (!batch || !governing || event->not_assured || governing->method == HF_BOUND_STATED_SCATTER) return;
    if (!(batch->value < governing->value)) return;
    event->without_batches = governing;
    event->governing = batch;
    event->governing_reason = HF_GOVERNS_BATCH_LOWER;
    event->confirming = NULL;
}

/* The row that counts a stated scatter between batches goes by the bound that leads without it. */
static void count_between(hf_event_assessment *event) {
    const hf_bound *governing = event->governing;
    double reach, value;
    if (!event->one_batch || !governing || event->not_assured || governing->method == HF_BOUND_STATED_SCATTER)
        return;
    if (hf_one_batch_bound(event->mean_log_load, governing->value, event->between, governing->content,
                           governing->confidence, &reach, &value) != HF_OK)
        return;
    *event->one_batch = (hf_bound){.method = HF_BOUND_ONE_BATCH,
                                   .content = governing->content,
                                   .confidence = governing->confidence,
                                   .k = 1,
                                   .m = event->mean_log_load,
                                   .s = reach,
                                   .value = value,
                                   .n = event->counts.used,
                                   .lower_end = NAN,
                                   .upper_end = NAN};
    event->between_factor = hf_between_factor(governing->content, governing->confidence);
    event->bound_count++;
    event->without_batches = governing;
    event->governing = event->one_batch;
    event->governing_reason = HF_GOVERNS_BETWEEN_STATED;
    event->confirming = NULL;
}

void hf_event_choose(const hf_family *stated, hf_event_assessment *event) {
    const hf_family *rule = hf_family_governing(NULL), *wanted = hf_family_governing(stated);
    const hf_bound *by_order = find_method(event, HF_BOUND_ORDER_STATISTIC);
    event->governing_reason = wanted == rule ? HF_GOVERNS_WEIBULL_RULE : HF_GOVERNS_STATED;
    event->stated_rejected = wanted != rule && hf_law_rejected(event, wanted) ? wanted : NULL;
    if (event->stated_rejected) {
        wanted = rule;
        event->governing_reason = HF_GOVERNS_STATED_REJECTED;
    }
    const hf_bound *by_law = find_by_law(event, wanted),
                   *by_scatter = find_method(event, HF_BOUND_STATED_SCATTER);
    bool own_leads = by_law && event->own_from_parts > 0;
    if (own_leads && wanted == rule) event->governing_reason = HF_GOVERNS_OWN_SCATTER;
    if (by_scatter && !own_leads && !event->confrontation.contradicted) {
        event->governing = by_scatter;
        event->governing_reason = HF_GOVERNS_STATED_SCATTER;
    } else if (by_law && hf_law_rejected(event, wanted)) {
        take_rejected(by_law, event);
    } else if (by_law) {
        event->governing = by_law;
    } else {
        event->governing = by_order;
        event->governing_reason = by_order ? HF_GOVERNS_ORDER_STATISTIC : HF_GOVERNS_NONE;
    }
    if (!event->governing && by_scatter) { /* contradicted, and nothing else is there */
        event->governing = by_scatter;
        event->governing_reason = HF_GOVERNS_SCATTER_NOT_ASSURED;
        event->not_assured = true;
    }
    take_batches(event);
    count_between(event);
}
