#include "holdfast/base/file.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include "base/file_parts.h"

enum { INPUT = 0, OUTPUT = 1 };

hf_status hf_file_error(hf_error *error, const char *path, const char *what) {
    return hf_error_set(error, HF_FILE, "%s: %s: %s", path, what, strerror(errno));
}

hf_status hf_file_unwritten(hf_error *error, const char *path, size_t length) {
    if (!hf_platform_no_room()) return hf_file_error(error, path, "cannot be written");
    return hf_error_set(
        error, HF_FILE,
        "%s: cannot be written: %s; %zu bytes must be free there, and what was there before is "
        "unchanged",
        path, strerror(errno), length);
}

static hf_status read_all(int file, const char *path, size_t limit, hf_text *out, hf_error *error) {
    char block[65536];
    for (;;) {
        long count = hf_platform_read(file, block, sizeof block);
        if (count < 0) return hf_file_error(error, path, "cannot be read");
        if (count == 0) break;
        if ((size_t)count > limit - out->length)
            return hf_error_set(error, HF_BAD_DATA,
                                "%s: longer than %zu bytes, which is the most that is read", path, limit);
        hf_text_add_bytes(out, block, (size_t)count);
        if (out->failed) return hf_error_set(error, HF_MEMORY, "out of memory");
    }
    return HF_OK;
}

hf_status hf_file_read(const char *path, size_t limit, hf_text *out, hf_error *error) {
    if (strcmp(path, "-") == 0) return read_all(INPUT, "standard input", limit, out, error);
    int file = hf_platform_open_read(path);
    if (file < 0) return hf_file_error(error, path, "cannot be opened");
    hf_status status = read_all(file, path, limit, out, error);
    (void)hf_platform_close(file);
    return status;
}

hf_status hf_file_read_if_any(const char *path, size_t limit, hf_text *out, hf_error *error) {
    int file = hf_platform_open_read(path);
    if (file < 0) return errno == ENOENT ? HF_OK : hf_file_error(error, path, "cannot be opened");
    hf_status status = read_all(file, path, limit, out, error);
    (void)hf_platform_close(file);
    return status;
}

bool hf_file_is_pipe(const char *path) {
    hf_platform_about about;
    return strcmp(path, "-") != 0 && hf_platform_look(path, &about) && about.kind == HF_PLATFORM_PIPE;
}

bool hf_file_exists(const char *path) {
    hf_platform_about about;
    return hf_platform_look_at_link(path, &about);
}

bool hf_file_same(const char *a, const char *b) {
    hf_platform_about first, second;
    return hf_platform_look(a, &first) && hf_platform_look(b, &second) &&
           hf_platform_same_file(&first, &second);
}

size_t hf_file_names(const char *path) {
    hf_platform_about about;
    return hf_platform_look(path, &about) && about.kind == HF_PLATFORM_REGULAR ? (size_t)about.names : 0;
}

static hf_status write_output(const char *bytes, size_t length, hf_error *error) {
    return hf_platform_write(OUTPUT, bytes, length)
               ? HF_OK
               : hf_file_error(error, "standard output", "cannot be written");
}

static hf_status exists_already(const char *path, hf_error *error) {
    return hf_error_set(error, HF_FILE, "%s: exists already and is not overwritten", path);
}

/* Gives the temporary file its name unless that is taken. Where a file system knows no hard links (FAT on a memory stick), the
 * name is taken first by an empty file. */
static bool give_new_name(const char *name, const char *target) {
    if (hf_platform_link(name, target)) return true;
    if (!hf_platform_no_links()) return false;
    int file = hf_platform_open_fresh(target, 0600);
    if (file < 0) return false;
    (void)hf_platform_close(file);
    if (hf_platform_rename(name, target)) return true;
    int reason = errno;
    (void)hf_platform_remove(target);
    errno = reason;
    return false;
}

/* Over the old file that `like` tells of, or as a new one (NULL). */
static hf_status put(const char *target, const hf_platform_about *like, const char *bytes, size_t length,
                     hf_error *error) {
    hf_temporary temporary;
    hf_status status = hf_temporary_write(target, like, bytes, length, &temporary, error);
    if (status != HF_OK) return status;
    if (!hf_platform_rename(temporary.name, target)) status = hf_file_unwritten(error, target, length);
    hf_temporary_end(&temporary, status == HF_OK);
    if (status != HF_OK) return status;
    hf_platform_sync_folder(target);
    hf_temporary_sweep(target, temporary.made_s);
    return HF_OK;
}

/* Anything that is no regular file (a terminal, /dev/full, a pipe) is written to, not replaced. */
static hf_status write_special(const char *path, const char *bytes, size_t length, hf_error *error) {
    int file = hf_platform_open_write(path);
    if (file < 0) return hf_file_error(error, path, "cannot be opened");
    hf_status status =
        hf_platform_write(file, bytes, length) ? HF_OK : hf_file_error(error, path, "cannot be written");
    if (!hf_platform_close(file) && status == HF_OK) status = hf_file_error(error, path, "cannot be written");
    return status;
}

hf_status hf_file_writable(const char *path, hf_error *error) {
    hf_platform_about about;
    if (!hf_platform_look(path, &about)) return hf_file_error(error, path, "cannot be opened");
    if (about.kind == HF_PLATFORM_FOLDER)
        return hf_error_set(error, HF_FILE, "%s: is a folder, expected a file", path);
    if (about.kind != HF_PLATFORM_REGULAR || hf_platform_may_write(path, &about)) return HF_OK;
    if (about.mode & 0222) return hf_file_error(error, path, "may not be written, and nothing was");
    return hf_error_set(error, HF_FILE,
                        "%s: is read-only, and nothing was written; to allow it: chmod u+w %s", path, path);
}

hf_status hf_file_replace(const char *path, const char *bytes, size_t length, hf_error *error) {
    hf_platform_about about;
    if (strcmp(path, "-") == 0) return write_output(bytes, length, error);
    if (!hf_platform_look(path, &about)) {
        if (hf_platform_look_at_link(path, &about)) {
            errno = ENOENT;
            return hf_file_error(error, path, "is a symbolic link that leads to no file");
        }
        return put(path, NULL, bytes, length, error);
    }
    hf_status status = hf_file_writable(path, error);
    if (status != HF_OK) return status;
    if (about.kind != HF_PLATFORM_REGULAR) return write_special(path, bytes, length, error);
    char *real = hf_platform_real_name(path);
    if (!real) return hf_file_error(error, path, "cannot be opened");
    status = put(real, &about, bytes, length, error);
    free(real);
    return status;
}

hf_status hf_file_create(const char *path, const char *bytes, size_t length, hf_error *error) {
    hf_platform_about about;
    hf_temporary temporary;
    if (strcmp(path, "-") == 0) return write_output(bytes, length, error);
    if (hf_platform_look_at_link(path, &about)) return exists_already(path, error);
    hf_status status = hf_temporary_write(path, NULL, bytes, length, &temporary, error);
    if (status != HF_OK) return status;
    if (!give_new_name(temporary.name, path))
        status = errno == EEXIST ? exists_already(path, error) : hf_file_unwritten(error, path, length);
    hf_temporary_end(&temporary, false); /* its second name, or nothing any more */
    if (status != HF_OK) return status;
    hf_platform_sync_folder(path);
    hf_temporary_sweep(path, temporary.made_s);
    return HF_OK;
}
