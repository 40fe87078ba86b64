/* Whole files in, whole files out.
 *
 * Reading has a size limit. Writing goes to a temporary file in the same folder, is flushed to the disk
 * and then renamed over the target, so that a power cut leaves either the old or the new file. */
#ifndef HOLDFAST_BASE_FILE_H
#define HOLDFAST_BASE_FILE_H

#include <stddef.h>
#include <stdbool.h>
#include "holdfast/base/error.h"
#include "holdfast/base/text.h"

/* Reads all of `path` ("-" is standard input) into *out, at most `limit` bytes.
 * HF_FILE when it cannot be read; HF_BAD_DATA when it is longer than `limit`. out is the caller's. */
hf_status hf_file_read(const char *path, size_t limit, hf_text *out, hf_error *error);

/* Replaces `path` ("-" is standard output) by bytes[0..length): temporary file, fsync, rename. Keeps the mode of an existing
 * file; follows a symbolic link to its target (a link to nothing is refused). What is no regular file (a device, a pipe) is
 * written to. HF_FILE when anything fails; the old file is then untouched. */
hf_status hf_file_replace(const char *path, const char *bytes, size_t length, hf_error *error);

/* Like hf_file_replace, but HF_FILE when `path` already exists (used by `new`). */
hf_status hf_file_create(const char *path, const char *bytes, size_t length, hf_error *error);

/* SHA-256 (FIPS 180-4) of bytes as 64 lower-case hexadecimal digits and a zero. */
void hf_file_sha256(const char *bytes, size_t length, char out[65]);

#endif
