#include "words/assess_words.h"
#include "words/words.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"

/* --- A law that the pulls speak against -------------------------------------------------------------- */

bool hf_governing_rejected(const hf_event_assessment *e) {
    return e->governing && e->governing->family && hf_law_rejected(e, e->governing->family);
}

bool hf_all_laws_rejected(const hf_event_assessment *e) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (hf_family_may_govern(hf_family_at(i)) && !hf_law_rejected(e, hf_family_at(i))) return false;
    return true;
}

const char *hf_whatever_law_words(const hf_bound *bound) {
    return bound->family || hf_bound_counts_batches(bound) ? ""
           : bound->method == HF_BOUND_ORDER_STATISTIC     ? "whatever the strength law"
                                                           : "for a wide class of strength laws";
}

/* --- Loads ------------------------------------------------------------------------------------------- */

const char *hf_bound_load(hf_document *d, double newtons) {
    return hf_show_text(d, HF_AS_BOUND, newtons);
}

const char *hf_seen_bare(hf_document *d, double newtons) {
    return hf_bare_text(d, HF_AS_SEEN, newtons);
}

const char *hf_seen_load(hf_document *d, double newtons) {
    return hf_show_text(d, HF_AS_SEEN, newtons);
}

/* --- Words ------------------------------------------------------------------------------------------- */

const char *hf_open_words(const hf_assess_counts *counts) {
    bool held = counts->failed < counts->used;
    if (held && counts->below) return "some parts did not fail and some failed at the first load stated";
    if (held) return "some parts did not fail";
    return counts->below ? "some parts failed at the first load stated"
                         : "not every part failed at a known load";
}

/* "weaker than 32 N", or that each is weaker than its own load. */
static const char *below_words(hf_document *d, const hf_design *design) {
    double load = NAN;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *specimen = &design->specimens[i];
        if (!hf_part_used(specimen) || specimen->pull.kind != HF_INTERVAL_BELOW) continue;
        if (isfinite(load) && specimen->pull.upper != load) return "weaker than the load it failed at";
        load = specimen->pull.upper;
    }
    const char *words = hf_arena_format(d->arena, "weaker than %s", hf_seen_load(d, load));
    return isfinite(load) && words ? words : "weaker than the load it failed at";
}

const char *hf_mean_words(hf_document *d, const hf_design_assessment *a) {
    const hf_assess_counts *c = &a->break_event.counts;
    const char *held = c->failed < c->used ? "; the others are stronger than what they held" : "", *words;
    if (!c->below)
        return held[0] ? "of those that failed only; the others are stronger than what they held"
                       : "about half of all parts are weaker";
    words = hf_arena_format(d->arena, "of the %zu that failed after holding a load; each of %zu more is %s%s",
                            c->failed - c->below, c->below, below_words(d, a->pulled ? a->pulled : a->design),
                            held);
    return words ? words : "?";
}
