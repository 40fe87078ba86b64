/* Changing a campaign file in place while others may do the same.
 *
 * A command says how a campaign's text changes; this reads the file under its lock, has the change made, and puts the new text in the
 * place of the old one in one step. Where an editor has saved the file meanwhile the change is made again on the new text, so that
 * nobody's work is lost. Before that it is written down in the journal (journal.h), so that it can be taken back. */
#ifndef HOLDFAST_CAMPAIGN_CHANGE_H
#define HOLDFAST_CAMPAIGN_CHANGE_H

#include "holdfast/campaign/campaign.h"

/* The new text of `now` appended to *out. May be called several times, each time on another text; what an earlier call has noted in
 * *context is then void. */
typedef hf_status hf_campaign_edit(void *context, const hf_campaign *now, hf_text *out, hf_error *error);

typedef struct hf_campaign_change {
    const char *path;
    const char *at, *command; /* for the journal: local time, and the command as a shell takes it */
    hf_campaign_edit *edit;
    void *context;
    size_t takes_back; /* number of the change in the journal that this one takes back; `edit` may set it */
    /* What came of it, in the arena. */
    const hf_campaign *before, *after;
    hf_findings old;      /* of the file as it was */
    hf_findings findings; /* of the file as it was when it cannot be read, else of the file as it is now */
    size_t names;         /* hard links the file had; the others keep the old text */
    bool same;            /* the new text is the old one: nothing was written */
} hf_campaign_change;

/* Makes the change. HF_BAD_DATA with findings when the file is no campaign; what `edit` returns; HF_FILE when the file is no regular one,
 * is read-only, cannot be locked or written, or has been changed again and again meanwhile. The file is changed on HF_OK only. */
hf_status hf_campaign_change_make(hf_arena *arena, hf_campaign_change *change, hf_error *error);

/* Whether text[0..length) is a campaign by the strict reading of its start: an object with a member "format" that says so, whatever is wrong
 * further on. */
bool hf_campaign_begins(const char *text, size_t length);

/* Whether the file at `path` begins so. False when it cannot be read. */
bool hf_campaign_is_at(const char *path);

/* Whether the file at `path` is the lock of a campaign that stands beside it. */
bool hf_campaign_is_locked_by(const char *path);

#endif
