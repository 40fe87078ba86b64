#include <string.h>
#include "holdfast/campaign/used.h"

bool hf_part_used(const hf_specimen *specimen) {
    return specimen->outcome != HF_OUTCOME_VOID && specimen->outcome != HF_OUTCOME_PLANNED &&
           !specimen->reused;
}

double hf_pull_reached(const hf_pull *pull) {
    return pull->kind == HF_INTERVAL_ABOVE ? pull->lower : pull->upper;
}

static bool met_before(const hf_design *design, size_t at) {
    for (size_t i = 0; i < at; i++)
        if (hf_part_used(&design->specimens[i]) && design->specimens[i].batch &&
            strcmp(design->specimens[i].batch, design->specimens[at].batch) == 0)
            return true;
    return false;
}

size_t hf_batches_stated(const hf_design *design, size_t *without) {
    size_t count = 0;
    *without = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        if (!hf_part_used(&design->specimens[i])) continue;
        if (!design->specimens[i].batch)
            ++*without;
        else
            count += !met_before(design, i);
    }
    return count;
}

size_t hf_held_not_stated(const hf_design *design, bool set) {
    size_t count = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_specimen *s = &design->specimens[i];
        bool failed = set ? s->set_seen.given : s->failed.given,
             held = set ? s->set_held.given : s->held.given;
        count += hf_part_used(s) && failed && !held;
    }
    return count;
}

static const char *later(const char *a, const char *b) {
    return !a || (b && strcmp(b, a) > 0) ? b : a;
}

const char *hf_design_last_day(const hf_design *design) {
    const char *last = NULL;
    for (size_t i = 0; i < design->specimen_count; i++)
        if (design->specimens[i].outcome != HF_OUTCOME_PLANNED) last = later(last, design->specimens[i].date);
    return last;
}

const char *hf_campaign_last_day(const hf_campaign *campaign) {
    const char *last = NULL;
    for (size_t i = 0; i < campaign->design_count; i++)
        last = later(last, hf_design_last_day(&campaign->designs[i]));
    return last;
}

size_t hf_batches_named(const hf_design *design) {
    size_t found = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const char *name = design->specimens[i].batch;
        bool again = !name;
        for (size_t j = 0; j < i && !again; j++)
            again = design->specimens[j].batch && strcmp(design->specimens[j].batch, name) == 0;
        found += !again;
    }
    return found;
}
