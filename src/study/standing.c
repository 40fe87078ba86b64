#include "holdfast/study/standing.h"

#include <math.h>
#include <string.h>
#include "holdfast/study/plan.h"

enum { PIECES_A_RUNG = 2 };

double hf_pull_seconds(const hf_campaign *campaign, const hf_sheet_ladder *ladder, double known) {
    double dwell = campaign->rig.dwell_s.given ? campaign->rig.dwell_s.value : HF_USUAL_DWELL;
    double seconds = HF_USUAL_MOUNT;
    if (!ladder || !ladder->count || !(known > 0)) return NAN;
    for (size_t i = 0; i < ladder->count; i++) {
        seconds += dwell + PIECES_A_RUNG * HF_USUAL_HANDLING;
        if (ladder->rungs[i].force > known) break;
    }
    return seconds;
}

static void count_parts(const hf_design *design, hf_standing_design *out) {
    for (size_t i = 0; i < design->specimen_count; i++) {
        size_t *const counts[] = {&out->failed, &out->held, &out->rig, &out->voided, &out->planned};
        ++*counts[design->specimens[i].outcome];
    }
}

/* The planned parts in their order; none is no mistake here. */
static hf_status find_next(hf_arena *arena, hf_standing *out, const hf_sheet **sheet, hf_error *error) {
    hf_status status = hf_sheet_make(arena, out->campaign, NULL, sheet, error);
    if (status == HF_NO_RESULT) *sheet = NULL;
    if (status != HF_OK) return status == HF_NO_RESULT ? HF_OK : status;
    const hf_sheet_part *part = &(*sheet)->parts[0];
    out->next = part->specimen;
    (void)hf_campaign_specimen(out->campaign, part->specimen->id, &out->next_design);
    if (part->ladder && part->ladder->count) out->rung = &part->ladder->rungs[0];
    return HF_OK;
}

static const hf_sheet_ladder *ladder_of(const hf_sheet *sheet, const hf_design *design) {
    for (size_t i = 0; sheet && i < sheet->ladder_count; i++)
        if (sheet->ladders[i].design == design) return &sheet->ladders[i];
    return NULL;
}

enum { MOST_DOUBTS = 20 };

/* Each pull beside all others of its design, until the list is full. */
static hf_status find_doubts(hf_arena *arena, hf_standing *standing, hf_doubt *list) {
    const hf_campaign *campaign = standing->campaign;
    hf_doubt some[HF_DOUBTS_MOST];
    hf_sanity *sanity = hf_sanity_start(arena, campaign);
    size_t count = 0;
    if (!sanity) return HF_MEMORY;
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        for (size_t j = 0; j < design->specimen_count && count < MOST_DOUBTS; j++) {
            if (design->specimens[j].outcome == HF_OUTCOME_PLANNED) continue;
            size_t more = hf_sanity_check(sanity, design, &design->specimens[j], some);
            for (size_t k = 0; k < more && count < MOST_DOUBTS; k++) list[count++] = some[k];
        }
    }
    hf_sanity_end(sanity);
    standing->doubts = list;
    standing->doubt_count = count;
    return HF_OK;
}

hf_status hf_standing_make(hf_arena *arena, const hf_campaign *campaign, const hf_standing **out,
                           hf_error *error) {
    hf_standing *standing = HF_ARENA_NEW(arena, hf_standing);
    hf_standing_design *designs = HF_ARENA_NEW_ARRAY(arena, hf_standing_design, campaign->design_count);
    hf_doubt *doubts = HF_ARENA_NEW_ARRAY(arena, hf_doubt, MOST_DOUBTS);
    const hf_sheet *sheet = NULL;
    if (!standing || !designs || !doubts) return hf_error_set(error, HF_MEMORY, "out of memory");
    *standing = (hf_standing){.campaign = campaign, .designs = designs, .count = campaign->design_count};
    hf_status status = find_next(arena, standing, &sheet, error);
    if (status != HF_OK) return status;
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        designs[i].design = design;
        count_parts(design, &designs[i]);
        double each = hf_pull_seconds(campaign, ladder_of(sheet, design), hf_known_strength(arena, design));
        designs[i].minutes = designs[i].planned ? (double)designs[i].planned * each / 60 : 0;
        standing->minutes += designs[i].minutes;
    }
    if (find_doubts(arena, standing, doubts) != HF_OK) return hf_error_set(error, HF_MEMORY, "out of memory");
    *out = standing;
    return HF_OK;
}
