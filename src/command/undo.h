/* Taking the last change of a campaign file back, for the command and for the day at the rig. */
#ifndef HF_COMMAND_UNDO_H
#define HF_COMMAND_UNDO_H

#include "command/common.h"
#include "holdfast/campaign/journal.h"

typedef struct hf_undo {
    hf_campaign_change change;
    const hf_journal *journal; /* as it was before; its last entry is taken back */
} hf_undo;

/* HF_NO_RESULT when nothing is left to take back; what hf_campaign_change_make returns. Words in request->error, or findings of the
 * change. */
hf_status hf_undo_make(hf_request *request, const char *path, hf_undo *out);

#endif
