/* Checks over the whole file: ids, and what the rig must state. */
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "campaign/parts.h"

typedef struct id_use {
    const char *id;
    const hf_json *node; /* the "id" value */
} id_use;

static int compare_ids(const void *a, const void *b) {
    const id_use *x = a, *y = b;
    int order = strcmp(x->id, y->id);
    return order ? order : (x->node->start > y->node->start) - (x->node->start < y->node->start);
}

static void note_id(id_use *uses, size_t *count, const char *id, const hf_json *object) {
    if (id && object && hf_json_get(object, "id")) uses[(*count)++] = (id_use){id, hf_json_get(object, "id")};
}

void hf_check_ids(hf_reader *reader, const hf_campaign *campaign) {
    size_t total = 1 + campaign->design_count, count = 0;
    for (size_t i = 0; i < campaign->design_count; i++) total += campaign->designs[i].specimen_count;
    id_use *uses = hf_memory_take(total, sizeof *uses);
    if (!uses) {
        reader->out_of_memory = true;
        return;
    }
    const hf_json *rig = campaign->root ? hf_json_get(campaign->root, "rig") : NULL;
    note_id(uses, &count, campaign->rig.id, rig);
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        note_id(uses, &count, design->id, design->node);
        for (size_t j = 0; j < design->specimen_count; j++)
            note_id(uses, &count, design->specimens[j].id, design->specimens[j].node);
    }
    qsort(uses, count, sizeof *uses, compare_ids);
    for (size_t i = 1, first = 0; i < count; i++) {
        if (strcmp(uses[i].id, uses[first].id) != 0)
            first = i;
        else
            hf_reader_error(
                reader, uses[i].node,
                "found id \"%.60s\" again, first in line %zu; expected ids that are unique in the file",
                uses[i].id, uses[first].node->line);
    }
    hf_memory_free(uses);
}

void hf_check_ends(hf_reader *reader, hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            if (!specimen->ends[0]) continue;
            campaign->any_ends = true;
            const hf_json *list = hf_json_get(specimen->node, "ends");
            if (!hf_is_design(reader, specimen->ends[0]))
                (void)hf_reader_wrong(reader, list->first, "the id of a design of this file");
            if (!hf_is_design(reader, specimen->ends[1]))
                (void)hf_reader_wrong(reader, list->first->next, "the id of a design of this file");
        }
}

static bool is_stepped_record(const hf_specimen *specimen) {
    return specimen->held.given || specimen->failed.given ||
           ((specimen->set_held.given || specimen->set_seen.given) && !specimen->peak.given);
}

void hf_check_rig(hf_reader *reader, const hf_campaign *campaign, const hf_json *rig_node) {
    const hf_json *where = rig_node ? rig_node : campaign->root;
    bool stepped = false, without_tare = false;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const hf_specimen *specimen = &campaign->designs[i].specimens[j];
            if (!is_stepped_record(specimen)) continue;
            stepped = true;
            without_tare |= !specimen->tare.given;
        }
    if (!stepped || !where) return;
    const char *missing = rig_node ? "" : " in \"rig\"";
    if (campaign->rig.force.records == HF_RIG_RECORDS_NONE && !(rig_node && hf_json_get(rig_node, "records")))
        hf_reader_error(reader, where,
                        "found stepped pulls but no \"records\"%s, expected \"added\" (weights hung on) or "
                        "\"total\" (force at the part)",
                        missing);
    if (campaign->rig.force.records == HF_RIG_RECORDS_ADDED && without_tare && !campaign->rig.tare_given &&
        !hf_json_get(where, "tare"))
        hf_reader_error(
            reader, where,
            "found added weights but no \"tare\"%s, expected the force on the part with nothing added",
            missing);
}
