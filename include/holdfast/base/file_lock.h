/* Changing a file that others may change at the same time.
 *
 * Whoever reads a file, changes the text and writes it back loses what somebody else wrote in between. So for that time the file is
 * locked: by an advisory lock on "<file>.log" beside it (its links followed), which is made when it is first needed and never removed.
 * The system lets go of the lock when a program ends, however it ends, so that nothing stale can remain. Programs that know nothing of
 * the lock, such as an editor, are met by the second guard: just before the renaming the file must still hold what was read. */
#ifndef HOLDFAST_BASE_FILE_LOCK_H
#define HOLDFAST_BASE_FILE_LOCK_H

#include <stdbool.h>
#include "holdfast/base/error.h"
#include "holdfast/base/text.h"

typedef struct hf_file_lock hf_file_lock;

/* Locks the file, waiting up to 10 seconds. HF_FILE when there is no such file, when it is read-only or no regular file, when its folder
 * cannot hold the log, or when another program does not let go. `path` must outlive the lock; hf_file_lock_release must follow HF_OK. */
hf_status hf_file_lock_take(const char *path, hf_file_lock **out, hf_error *error);

/* The name of the log of the file at `path`, links followed, appended to *out. HF_FILE when there is no such file. */
hf_status hf_file_log_name(const char *path, hf_text *out, hf_error *error);

/* Adds line[0..length), which ends with a line break, to the log. On the disk when HF_OK is returned; when HF_FILE is, a part of it may stand
 * there: whatever is added later begins a line of its own. */
hf_status hf_file_log_add(hf_file_lock *lock, const hf_text *line, hf_error *error);

/* The name of the file whose lock would be the file at `path`, appended to *file; false when there is none of that name. */
bool hf_file_of_lock(const char *path, hf_text *file);

/* NULL is allowed. */
void hf_file_lock_release(hf_file_lock *lock);

/* Replaces the locked file by `text` as hf_file_replace does, if what it holds still has this SHA-256; else nothing is written and *changed
 * is true (HF_OK). `entry` (NULL: none) is added to the log before the new text takes its place. HF_FILE when anything fails; the old file is
 * then untouched, though the entry may stand. */
hf_status hf_file_swap(hf_file_lock *lock, const char sha256[65], const hf_text *text, const hf_text *entry,
                       bool *changed, hf_error *error);

#endif
