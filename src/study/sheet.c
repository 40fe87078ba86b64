#include "holdfast/study/sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/campaign/hanging.h"
#include "holdfast/base/number.h"

static size_t pieces_of(const hf_hanging *load, hf_load kind) {
    for (size_t i = 0; i < load->count; i++)
        if (load->items[i].load.unit == kind.unit && load->items[i].load.value == kind.value)
            return load->items[i].count;
    return 0;
}

static size_t more_of(const hf_hanging *from, const hf_hanging *to, size_t at) {
    size_t before = pieces_of(from, to->items[at].load);
    return to->items[at].count > before ? to->items[at].count - before : 0;
}

/* The next kind of which `to` has more than `from`, from `at` on; to->count when there is none. */
static size_t next_change(const hf_hanging *from, const hf_hanging *to, size_t at) {
    while (at < to->count && !more_of(from, to, at)) at++;
    return at;
}

/* "add 2×10 and 5 kg": what `to` has more of than `from`. A unit stands behind the last number that is in it. */
static void add_changes(const hf_hanging *from, const hf_hanging *to, const char *verb, hf_text *out) {
    char number[HF_NUMBER_SIZE];
    size_t first = next_change(from, to, 0);
    for (size_t i = first, next; i < to->count; i = next) {
        next = next_change(from, to, i + 1);
        if (i == first)
            hf_text_addf(out, "%s%s ", out->length ? ", " : "", verb);
        else
            hf_text_add(out, next < to->count ? ", " : " and ");
        size_t pieces = more_of(from, to, i);
        if (pieces > 1) hf_text_addf(out, "%zu×", pieces);
        hf_text_add(out, hf_number_shortest(to->items[i].load.value, number));
        const hf_unit *unit = to->items[i].load.unit;
        if (next == to->count || to->items[next].load.unit != unit) hf_text_addf(out, " %s", unit->name);
    }
}

static const char *changes(hf_arena *arena, const hf_hanging *from, const hf_hanging *to) {
    hf_text text = {0};
    add_changes(to, from, "take off", &text);
    add_changes(from, to, "add", &text);
    const char *out = hf_arena_text(arena, text.bytes ? text.bytes : "", text.length);
    hf_text_free(&text);
    return out ? out : "";
}

/* All that hangs, if it is masses: in their unit, of several in kg. */
static void weigh(const hf_hanging *load, hf_sheet_rung *rung) {
    double kilograms = 0;
    const hf_unit *unit = load->count ? load->items[0].load.unit : NULL;
    for (size_t i = 0; i < load->count; i++) {
        const hf_load *one = &load->items[i].load;
        if (!one->unit->is_mass) return;
        if (one->unit != unit) unit = hf_unit_find("kg", 2);
        kilograms += (double)load->items[i].count * one->value * one->unit->factor;
    }
    if (!unit) return;
    rung->hung_unit = unit;
    rung->hung = kilograms / unit->factor;
}

static hf_status fill_ladder(hf_arena *arena, const hf_campaign *campaign, const hf_written_ladder *written,
                             hf_sheet_ladder *out, hf_error *error) {
    hf_sheet_rung *rungs = HF_ARENA_NEW_ARRAY(arena, hf_sheet_rung, written->count);
    hf_hanging *now = HF_ARENA_NEW(arena, hf_hanging), *next = HF_ARENA_NEW(arena, hf_hanging);
    if (!rungs || !now || !next) return hf_error_set(error, HF_MEMORY, "out of memory");
    for (size_t i = 0; i < written->count; i++) {
        const char *weights = written->rungs[i].weights;
        rungs[i] =
            (hf_sheet_rung){.force = hf_rig_force_of_record(&campaign->rig.force, written->rungs[i].newtons),
                            .recorded = written->rungs[i].newtons,
                            .doing = "",
                            .hangs = weights ? weights : ""};
        if (!weights || !weights[0]) continue;
        hf_error why = {0};
        hf_status status = hf_hanging_read(campaign, &written->rungs[i], next, &why);
        if (status != HF_OK)
            return hf_error_set(error, status, "plan.ladders.%s: rung %zu: %s", written->design, i + 1,
                                why.message);
        rungs[i].doing = changes(arena, now, next);
        weigh(next, &rungs[i]);
        *now = *next;
    }
    *out = (hf_sheet_ladder){hf_campaign_design(campaign, written->design), rungs, written->count};
    return HF_OK;
}

static int compare_parts(const void *a, const void *b) {
    const hf_specimen *x = ((const hf_sheet_part *)a)->specimen, *y = ((const hf_sheet_part *)b)->specimen;
    double p = x->order.given ? x->order.value : INFINITY, q = y->order.given ? y->order.value : INFINITY;
    return p != q ? (p > q) - (p < q) : (x > y) - (x < y);
}

static const hf_sheet_ladder *ladder_of(const hf_sheet *sheet, const hf_design *design) {
    for (size_t i = 0; i < sheet->ladder_count; i++)
        if (sheet->ladders[i].design == design) return &sheet->ladders[i];
    return NULL;
}

static hf_status fill_parts(hf_arena *arena, const char *design, hf_sheet *sheet) {
    const hf_campaign *campaign = sheet->campaign;
    size_t total = 0;
    for (size_t i = 0; i < campaign->design_count; i++) total += campaign->designs[i].specimen_count;
    hf_sheet_part *parts = HF_ARENA_NEW_ARRAY(arena, hf_sheet_part, total);
    if (!parts) return HF_MEMORY;
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *at = &campaign->designs[i];
        if (design && strcmp(design, at->id) != 0) continue;
        for (size_t j = 0; j < at->specimen_count; j++)
            if (at->specimens[j].outcome == HF_OUTCOME_PLANNED)
                parts[sheet->part_count++] = (hf_sheet_part){&at->specimens[j], ladder_of(sheet, at)};
    }
    qsort(parts, sheet->part_count, sizeof *parts, compare_parts);
    sheet->parts = parts;
    return HF_OK;
}

static const hf_unit *plates_of(const hf_campaign *campaign) {
    const hf_unit *unit = campaign->weight_count ? campaign->weights[0].unit : NULL;
    for (size_t i = 1; i < campaign->weight_count; i++)
        if (campaign->weights[i].unit != unit) return NULL;
    return unit;
}

hf_status hf_sheet_make(hf_arena *arena, const hf_campaign *campaign, const char *design,
                        const hf_sheet **out, hf_error *error) {
    if (design && !hf_campaign_find_design(campaign, design, error)) return error->status;
    hf_sheet *sheet = HF_ARENA_NEW(arena, hf_sheet);
    hf_sheet_ladder *ladders = HF_ARENA_NEW_ARRAY(arena, hf_sheet_ladder, campaign->plan.count);
    if (!sheet || !ladders) return hf_error_set(error, HF_MEMORY, "out of memory");
    sheet->campaign = campaign;
    sheet->plates = plates_of(campaign);
    sheet->ladders = ladders;
    for (size_t i = 0; i < campaign->plan.count; i++) {
        if (design && strcmp(campaign->plan.ladders[i].design, design) != 0) continue;
        hf_status status =
            fill_ladder(arena, campaign, &campaign->plan.ladders[i], &ladders[sheet->ladder_count++], error);
        if (status != HF_OK) return status;
    }
    if (fill_parts(arena, design, sheet) != HF_OK) return hf_error_set(error, HF_MEMORY, "out of memory");
    if (!sheet->part_count)
        return hf_error_set(error, HF_NO_RESULT,
                            "no part is planned in %s; plan first: holdfast plan %s --write", campaign->file,
                            campaign->file);
    *out = sheet;
    return HF_OK;
}
