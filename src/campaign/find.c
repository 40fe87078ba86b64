/* Designs and parts by their ids. */
#include <stdlib.h>
#include <string.h>
#include "campaign/parts.h"
#include "holdfast/base/text.h"
#include "holdfast/campaign/campaign.h"

const hf_design *hf_campaign_design(const hf_campaign *campaign, const char *id) {
    for (size_t i = 0; i < campaign->design_count; i++)
        if (campaign->designs[i].id && strcmp(campaign->designs[i].id, id) == 0) return &campaign->designs[i];
    return NULL;
}

const char *hf_campaign_nearest_design(const hf_campaign *campaign, const char *id) {
    const char *nearest = NULL;
    for (size_t i = 0; i < campaign->design_count; i++) {
        const char *pair[] = {nearest ? nearest : campaign->designs[i].id, campaign->designs[i].id};
        const char *better = hf_text_nearest(id, pair, 2);
        if (better) nearest = better;
    }
    return nearest;
}

const hf_design *hf_campaign_find_design(const hf_campaign *campaign, const char *id, hf_error *error) {
    const hf_design *design = hf_campaign_design(campaign, id);
    const char *nearest = design ? NULL : hf_campaign_nearest_design(campaign, id);
    if (!design)
        hf_error_set(error, HF_USAGE, "no design \"%.60s\" in %s%s%.60s%s", id, campaign->file,
                     nearest ? "; the nearest is \"" : "", nearest ? nearest : "", nearest ? "\"" : "");
    return design;
}

const hf_specimen *hf_campaign_specimen(const hf_campaign *campaign, const char *id,
                                        const hf_design **design) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            if (strcmp(specimen->id, id) != 0) continue;
            if (design) *design = &campaign->designs[i];
            return specimen;
        }
    return NULL;
}

static int compare_texts(const void *a, const void *b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

void hf_index_designs(hf_reader *reader, const hf_campaign *campaign) {
    reader->design_ids = HF_ARENA_NEW_ARRAY(reader->arena, const char *, campaign->design_count);
    if (!reader->design_ids) {
        reader->out_of_memory = true;
        return;
    }
    for (size_t i = 0; i < campaign->design_count; i++)
        if (campaign->designs[i].id) reader->design_ids[reader->design_id_count++] = campaign->designs[i].id;
    qsort(reader->design_ids, reader->design_id_count, sizeof *reader->design_ids, compare_texts);
}

bool hf_is_design(const hf_reader *reader, const char *id) {
    return reader->design_ids && bsearch(&id, reader->design_ids, reader->design_id_count,
                                         sizeof *reader->design_ids, compare_texts);
}
