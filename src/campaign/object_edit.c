#include "campaign/object_edit.h"

#include <string.h>
#include "campaign/table.h"

static const hf_member_change *row_of(const hf_member_change *rows, size_t count, const char *key) {
    for (size_t i = 0; i < count; i++)
        if (strcmp(rows[i].key, key) == 0) return &rows[i];
    return NULL;
}

static void add_edit(hf_object_job *job, size_t start, size_t end, const char *replacement) {
    if (job->count < HF_OBJECT_EDITS) job->edits[job->count++] = (hf_json_edit){start, end, replacement};
}

/* Rows that stand nowhere yet, each behind `between`; the first without when there is nothing before it. */
static hf_status added_text(hf_object_job *job, const hf_json *object, const hf_member_change *rows,
                            size_t count, const hf_json *kept, const char **out) {
    hf_text added = {0};
    const char *between = kept ? hf_separator_like(job->arena, job->text, kept->key_start) : ", ";
    for (size_t i = 0; i < count; i++)
        if (rows[i].value && !hf_json_get(object, rows[i].key))
            hf_text_addf(&added, "%s\"%s\": %s", kept || added.length ? between ? between : ", " : "",
                         rows[i].key, rows[i].value);
    *out = added.failed ? NULL : hf_arena_text(job->arena, added.bytes ? added.bytes : "", added.length);
    hf_text_free(&added);
    return *out ? HF_OK : HF_MEMORY;
}

/* Edits of the members there are, then one that adds the new ones behind the last that stays. */
hf_status hf_object_edit(hf_object_job *job, const hf_json *object, const hf_member_change *rows,
                         size_t count) {
    const hf_json *kept = NULL, *last = NULL;
    const char *added;
    for (const hf_json *child = object->first; child; child = child->next) {
        const hf_member_change *row = row_of(rows, count, child->key);
        last = child;
        if (!(row && row->removed)) kept = child;
    }
    if (added_text(job, object, rows, count, kept, &added) != HF_OK) return HF_MEMORY;
    if (!kept) { /* nothing stays */
        const char *whole = added[0] ? hf_arena_format(job->arena, "{ %s }", added) : "{}";
        add_edit(job, object->start, object->end, whole);
        return whole ? HF_OK : HF_MEMORY;
    }
    for (const hf_json *child = object->first; child; child = child->next) {
        const hf_member_change *row = row_of(rows, count, child->key);
        if (row && row->removed && child->start < kept->start)
            add_edit(job, child->key_start, child->next->key_start, "");
        else if (row && row->value && !row->removed)
            add_edit(job, child->start, child->end, row->value);
    }
    if (added[0] || last != kept) add_edit(job, kept->end, last->end, added);
    return HF_OK;
}
