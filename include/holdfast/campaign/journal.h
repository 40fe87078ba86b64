/* The journal of a campaign file: what was changed, and how it is taken back.
 *
 * Every change that the program makes to a campaign is first written down in the log beside the file, as one line of JSON that is on the
 * disk before the new text takes the place of the old: when, by which command, the piece of the text that was there and the piece that is
 * there now, and the SHA-256 of the whole file before and after. Lines are only ever added. By the SHA-256 it is seen later which changes
 * took effect (a program may have been cut off in between) and whether something else, such as an editor, changed the file. Taking a
 * change back is a change of its own. */
#ifndef HOLDFAST_CAMPAIGN_JOURNAL_H
#define HOLDFAST_CAMPAIGN_JOURNAL_H

#include "holdfast/campaign/campaign.h"

typedef enum hf_entry_standing {
    HF_ENTRY_STANDS,
    HF_ENTRY_TAKEN_BACK,
    HF_ENTRY_NEVER /* written down, but the new text never took its place */
} hf_entry_standing;

typedef struct hf_entry {
    size_t number;              /* among the changes, from 1 */
    const char *at;             /* local time, "2026-05-01T10:12:33+02:00" */
    const char *command;        /* as a shell takes it */
    const char *before, *after; /* SHA-256 of the file */
    size_t start;               /* byte at which the piece stands */
    const char *old, *now;      /* the piece before and after, whole lines where these are short */
    size_t takes_back;          /* number of the change that this one takes back, 0: none */
    hf_entry_standing standing;
    bool edited; /* behind it something else changed the file */
} hf_entry;

/* A pull that is going on: written after every key of the day, so that one that was cut off goes on where it stopped. */
typedef struct hf_pull_progress {
    const char *part;         /* id; NULL: none is going on */
    size_t held;              /* rungs of its ladder that it has held */
    const char *note, *photo; /* NULL: none so far */
} hf_pull_progress;

typedef struct hf_journal {
    const char *path;          /* of the journal */
    hf_pull_progress progress; /* the last one written behind the last change */
    const hf_entry *entries;
    size_t count;
    size_t broken;        /* lines that were cut off; what they were to say never took effect */
    const hf_entry *last; /* the change that would be taken back now, NULL: none */
} hf_journal;

/* Reads the journal of the file at `path` whose SHA-256 is `sha256`. No journal is an empty one. HF_FILE, HF_MEMORY. */
hf_status hf_journal_read(hf_arena *arena, const char *path, const char sha256[65], const hf_journal **out,
                          hf_error *error);

/* The line for a change from `before` to `after`, appended to *out. takes_back as above. */
void hf_journal_line(const char *at, const char *command, size_t takes_back, const hf_campaign *before,
                     const hf_campaign *after, hf_text *out);

/* Writes a progress into the journal of the file at `path`; on the disk when HF_OK is returned. */
hf_status hf_journal_add_progress(const char *path, const char *at, const hf_pull_progress *progress,
                                  hf_error *error);

/* text[0..length) with what `entry` wrote, which stands at `start`, replaced by what stood there before it, appended to *out. */
void hf_journal_put_back(const char *text, size_t length, size_t start, const hf_entry *entry, hf_text *out);

/* The text of `now` with `entry` taken back, appended to *out: at its place where nothing else has changed the file since, else where its
 * piece stands exactly once. HF_BAD_DATA when it stands nowhere or more than once. */
hf_status hf_journal_take_back(const hf_campaign *now, const hf_entry *entry, hf_text *out, hf_error *error);

#endif
