/* The pulls of another campaign as a table to be read in. */
#include <math.h>
#include <string.h>
#include "campaign/table.h"

static const hf_json nothing = {.kind = HF_JSON_NUMBER};

/* What a pull cannot say of its rig: why the same reading is another force, NULL where it is not. */
static const char *other_rig(const hf_campaign *here, const hf_campaign *there) {
    const hf_rig_force *a = &here->rig.force, *b = &there->rig.force;
    if (a->records != b->records) return "rig.records";
    if (a->advantage != b->advantage) return "rig.advantage";
    if (a->angle_deg != b->angle_deg) return "rig.angle_deg";
    return here->gravity != there->gravity ? "gravity" : NULL;
}

static bool same_errors(const hf_rig *a, const hf_rig *b) {
    bool same = a->uncertainty_count == b->uncertainty_count;
    for (size_t i = 0; same && i < a->uncertainty_count; i++) {
        const hf_uncertainty *x = &a->uncertainty[i], *y = &b->uncertainty[i];
        same = x->relative == y->relative && x->load == y->load && x->kind == y->kind;
    }
    return same;
}

/* The rig's tare, where a pull has to say it because it is another here. */
static const hf_json *tare_of(const hf_campaign *here, const hf_campaign *there) {
    const hf_json *rig = hf_json_get(there->root, "rig"), *tare = rig ? hf_json_get(rig, "tare") : NULL;
    if (there->rig.force.records != HF_RIG_RECORDS_ADDED) return NULL;
    if (here->rig.force.tare == there->rig.force.tare) return NULL;
    return tare ? tare : &nothing;
}

static const size_t *lines_of(hf_arena *arena, const hf_campaign *campaign) {
    size_t count = 0;
    for (size_t i = 0; i < campaign->design_count; i++) count += campaign->designs[i].specimen_count;
    size_t *lines = HF_ARENA_NEW_ARRAY(arena, size_t, count + 1);
    count = 0;
    for (size_t i = 0; lines && i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            if (specimen->outcome != HF_OUTCOME_PLANNED) lines[count++] = specimen->node->line;
        }
    return lines;
}

hf_status hf_table_of_campaign(hf_table *table, hf_campaign_table *out, hf_error *error) {
    const hf_table_source *source = table->source;
    hf_arena *arena = table->reader.arena;
    hf_findings found;
    hf_status status =
        hf_campaign_parse(arena, source->file, source->text, source->length, &out->campaign, &found);
    for (size_t i = 0; status == HF_BAD_DATA && i < found.count; i++)
        if (found.items[i].severity == HF_SEVERITY_ERROR)
            hf_reader_find(&table->reader, found.items[i], NULL);
    if (status != HF_OK) return status;
    const char *other = other_rig(table->campaign, out->campaign);
    if (other)
        return hf_error_set(
            error, HF_BAD_DATA,
            "%s: found another \"%s\" than in the campaign, expected the same: no pull can say "
            "it of itself, and the same reading would be another force",
            source->file, other);
    out->lines = lines_of(arena, out->campaign);
    out->other_errors = !same_errors(&table->campaign->rig, &out->campaign->rig);
    if (!out->lines) return HF_MEMORY;
    const hf_table_style style = {.to_import = true, .tare = tare_of(table->campaign, out->campaign)};
    return hf_campaign_export(arena, out->campaign, &style, &out->text, error);
}
