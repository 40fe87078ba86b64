#include "command/undo.h"

typedef struct undo_work {
    hf_request *request;
    hf_undo *undo;
} undo_work;

static hf_status nothing_left(const hf_undo *undo, hf_error *error) {
    const char *path = undo->change.path;
    if (undo->journal->count)
        return hf_error_set(error, HF_NO_RESULT,
                            "%s: nothing is left to take back; holdfast history %s lists the changes", path,
                            path);
    return hf_error_set(error, HF_NO_RESULT,
                        "%s: nothing to take back: no change is written down in %s (a file that was copied "
                        "or renamed leaves its journal "
                        "behind)",
                        path, undo->journal->path);
}

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    undo_work *work = context;
    hf_undo *undo = work->undo;
    hf_status status =
        hf_journal_read(work->request->arena, undo->change.path, now->sha256, &undo->journal, error);
    if (status != HF_OK) return status;
    const hf_entry *entry = undo->journal->last;
    if (!entry) return nothing_left(undo, error);
    undo->change.takes_back = entry->number;
    return hf_journal_take_back(now, entry, text, error);
}

hf_status hf_undo_make(hf_request *request, const char *path, hf_undo *out) {
    undo_work work = {request, out};
    out->change = hf_request_change(request, path, edit, &work);
    return hf_campaign_change_make(request->arena, &out->change, &request->error);
}
