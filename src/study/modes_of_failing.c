/* The ways of failing of one design: which there are, and the bound that holds whatever their shares. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "study/event.h"

/* Names of the modes, by name; NULL, last: not noted. */
typedef struct mode_names {
    const char **items;
    size_t count;
} mode_names;

static int by_name(const void *a, const void *b) {
    return hf_compare_names(*(const char *const *)a, *(const char *const *)b);
}

static bool whole(const hf_design_assessment *design, size_t at) {
    return design->sample.items[at].kind == HF_INTERVAL_ABOVE;
}

static hf_status name_modes(hf_arena *arena, const hf_design_assessment *design, mode_names *names) {
    size_t failed = 0;
    *names = (mode_names){HF_ARENA_NEW_ARRAY(arena, const char *, design->sample.count + 1), 0};
    if (!names->items) return HF_MEMORY;
    for (size_t i = 0; i < design->sample.count; i++)
        if (!whole(design, i)) names->items[failed++] = design->specimens[i]->mode;
    if (failed) qsort(names->items, failed, sizeof *names->items, by_name);
    for (size_t i = 0; i < failed; i++)
        if (i == 0 || by_name(&names->items[i], &names->items[names->count - 1]) != 0)
            names->items[names->count++] = names->items[i];
    return HF_OK;
}

static hf_status number_modes(hf_arena *arena, const hf_design_assessment *design, mode_names *names,
                              int **out) {
    int *mode = HF_ARENA_NEW_ARRAY(arena, int, design->sample.count);
    if (!mode || name_modes(arena, design, names) != HF_OK) return HF_MEMORY;
    for (size_t i = 0; i < design->sample.count; i++) {
        const char **found = whole(design, i) ? NULL
                                              : bsearch(&design->specimens[i]->mode, names->items,
                                                        names->count, sizeof *names->items, by_name);
        mode[i] = found ? (int)(found - names->items) : HF_MODE_NONE;
    }
    *out = mode;
    return HF_OK;
}

static hf_status refuse(hf_design_modes *out, const char *reason) {
    out->reason = reason;
    return HF_OK;
}

/* The law its bounds are of: the governing one, else the one that governs by rule. */
static const hf_family *law_of(const hf_event_assessment *event) {
    return hf_family_governing(event->governing ? event->governing->family : NULL);
}

hf_status hf_modes_of_failing(hf_arena *arena, uint64_t seed, hf_design_assessment *design) {
    hf_design_modes *out = &design->modes;
    const hf_family *family = law_of(&design->break_event);
    mode_names names;
    int *mode;
    out->undivided = design->modes_share = NAN;
    hf_status status = number_modes(arena, design, &names, &mode);
    if (status != HF_OK) return status;
    out->names = names.items;
    out->named = names.count;
    if (names.count == 0) return refuse(out, "no_failure");
    if (names.count == 1 && !names.items[0]) return refuse(out, "no_mode_stated");
    if (names.count > HF_MODE_LIMIT) return refuse(out, "too_many_modes");
    hf_mode_data data = {design->sample, mode, names.count};
    status = hf_modes_of(arena, family, &data, design->content, design->promise.used, seed, 0, &out->result);
    if (status == HF_MEMORY) return status;
    out->available = status == HF_OK;
    if (!out->available) out->reason = status == HF_RANGE ? "range" : "no_bound";
    const hf_bound *undivided = &design->break_event.bounds[hf_family_index(family)];
    if (undivided->method != HF_BOUND_NONE) out->undivided = undivided->value;
    if (out->available && out->result.bound < out->undivided)
        design->modes_share = fmax(out->result.bound, 0) / out->undivided;
    return HF_OK;
}
