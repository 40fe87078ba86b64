/* Changing members of JSON objects in a text: edits at noted places, every other byte as it was. */
#ifndef HF_CAMPAIGN_OBJECT_EDIT_H
#define HF_CAMPAIGN_OBJECT_EDIT_H

#include "holdfast/campaign/campaign.h"

/* What becomes of a member of an object. */
typedef struct hf_member_change {
    const char *key;
    const char *value; /* JSON text; NULL: none new */
    bool removed;
} hf_member_change;

enum { HF_OBJECT_EDITS = 128 };

typedef struct hf_object_job {
    hf_arena *arena;
    const hf_campaign *campaign;
    const char *text; /* in which the objects stand */
    hf_json_edit edits[HF_OBJECT_EDITS];
    size_t count;
} hf_object_job;

/* Edits for all rows of one object: members there are get their new value or go, new ones come behind the last that stays, in its layout. An
 * object from which everything goes is written as a whole. HF_OK or HF_MEMORY. */
hf_status hf_object_edit(hf_object_job *job, const hf_json *object, const hf_member_change *rows,
                         size_t count);

#endif
