/* Whole files in, whole files out.
 *
 * Reading has a size limit. Writing goes to a temporary file in the same folder, is flushed to the disk
 * and then renamed over the target, so that a power cut leaves either the old or the new file. A temporary file that a killed program
 * has left is named .holdfast-….tmp and is removed by a later writing in the same folder when it is an hour old. */
#ifndef HOLDFAST_BASE_FILE_H
#define HOLDFAST_BASE_FILE_H

#include <stddef.h>
#include <stdbool.h>
#include "holdfast/base/error.h"
#include "holdfast/base/text.h"

/* Reads all of `path` ("-" is standard input) into *out, at most `limit` bytes.
 * HF_FILE when it cannot be read; HF_BAD_DATA when it is longer than `limit`. out is the caller's. */
hf_status hf_file_read(const char *path, size_t limit, hf_text *out, hf_error *error);

/* The same, and an empty text where there is no such file. */
hf_status hf_file_read_if_any(const char *path, size_t limit, hf_text *out, hf_error *error);

/* Whether `path` leads to a pipe, from which nothing can be read twice and into which nothing can be put back. */
bool hf_file_is_pipe(const char *path);

/* Whether anything stands at `path`, a link to nothing too. */
bool hf_file_exists(const char *path);

/* Whether both names lead to one file, through whatever links. False when either leads nowhere. */
bool hf_file_same(const char *a, const char *b);

/* Names (hard links) of the regular file at `path`, 0 when there is none: replacing it leaves the other names at the old text. */
size_t hf_file_names(const char *path);

/* HF_FILE when what stands at `path` is a folder, or a file that whoever runs the program may not write or that nobody may (mode without
 * any write bit), the superuser included. */
hf_status hf_file_writable(const char *path, hf_error *error);

/* Replaces `path` ("-" is standard output) by bytes[0..length): temporary file, fsync, rename. Keeps mode, owner and group of an existing
 * file as far as the system allows, never setuid or setgid; a read-only file is refused. Follows a symbolic link to its target (a link to
 * nothing is refused). What is no regular file (a device, a pipe) is written to. HF_FILE when anything fails; the old file is then
 * untouched. */
hf_status hf_file_replace(const char *path, const char *bytes, size_t length, hf_error *error);

/* Like hf_file_replace, but HF_FILE when `path` already exists (used by `new`). */
hf_status hf_file_create(const char *path, const char *bytes, size_t length, hf_error *error);

/* SHA-256 (FIPS 180-4) of bytes as 64 lower-case hexadecimal digits and a zero. */
void hf_file_sha256(const char *bytes, size_t length, char out[65]);

#endif
