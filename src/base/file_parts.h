/* Temporary files: written beside their target, renamed over it, swept when a killed run has left one. */
#ifndef HF_BASE_FILE_PARTS_H
#define HF_BASE_FILE_PARTS_H

#include <stdint.h>
#include "holdfast/base/file.h"
#include "platform/files.h"

typedef struct hf_temporary {
    char *name;
    size_t ticket;  /* of hf_platform_watch */
    int64_t made_s; /* by the clock of the file system */
} hf_temporary;

/* The whole text on the disk in a file beside `target`, with owner, group and mode of `like`, or those of a new file (NULL). After
 * HF_OK hf_temporary_end must follow. */
hf_status hf_temporary_write(const char *target, const hf_platform_about *like, const char *bytes,
                             size_t length, hf_temporary *out, hf_error *error);

/* After the renaming (`kept`), or to remove it. */
void hf_temporary_end(hf_temporary *temporary, bool kept);

/* Removes what killed runs have left beside `target`: named as by us, with check digits, of the same owner, an hour older than
 * made_s, and held by no process. */
void hf_temporary_sweep(const char *target, int64_t made_s);

/* "PATH: WHAT: REASON" from errno. */
hf_status hf_file_error(hf_error *error, const char *path, const char *what);

/* "PATH: cannot be written: REASON", and how much room is needed where that is the reason. */
hf_status hf_file_unwritten(hf_error *error, const char *path, size_t length);

#endif
