#define _XOPEN_SOURCE 700
#include "holdfast/base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <libgen.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static hf_status file_error(hf_error *error, const char *path, const char *what) {
    return hf_error_set(error, HF_FILE, "%s: %s: %s", path, what, strerror(errno));
}

static hf_status read_all(int descriptor, const char *path, size_t limit, hf_text *out, hf_error *error) {
    char block[65536];
    for (;;) {
        ssize_t count = read(descriptor, block, sizeof block);
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return file_error(error, path, "cannot be read");
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
    if (strcmp(path, "-") == 0) return read_all(STDIN_FILENO, "standard input", limit, out, error);
    int descriptor = open(path, O_RDONLY | O_CLOEXEC);
    if (descriptor < 0) return file_error(error, path, "cannot be opened");
    hf_status status = read_all(descriptor, path, limit, out, error);
    (void)close(descriptor);
    return status;
}

static bool write_all(int descriptor, const char *bytes, size_t length) {
    while (length > 0) {
        ssize_t count = write(descriptor, bytes, length);
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return false;
        bytes += count;
        length -= (size_t)count;
    }
    return true;
}

/* The name a rename has made is only safe on the disk when its folder is. Not every file system can; that is no failure. */
static void sync_folder(const char *path) {
    char *copy = strdup(path);
    if (!copy) return;
    int folder = open(dirname(copy), O_RDONLY | O_CLOEXEC);
    if (folder >= 0) {
        (void)fsync(folder);
        (void)close(folder);
    }
    free(copy);
}

static mode_t mode_for(const char *path) {
    struct stat status;
    if (stat(path, &status) == 0) return status.st_mode & 07777;
    mode_t mask = umask(0);
    (void)umask(mask);
    return 0666 & ~mask;
}

/* Writes a temporary file beside `target`; its name is left in `name`. */
static hf_status write_temporary(const char *target, const char *bytes, size_t length, char *name,
                                 hf_error *error) {
    int descriptor = mkstemp(name);
    if (descriptor < 0) {
        name[0] = '\0';
        return file_error(error, target, "cannot be written");
    }
    bool good = fchmod(descriptor, mode_for(target)) == 0 && write_all(descriptor, bytes, length) &&
                fsync(descriptor) == 0;
    hf_status status = good ? HF_OK : file_error(error, target, "cannot be written");
    if (close(descriptor) != 0 && good) status = file_error(error, target, "cannot be written");
    return status;
}

static hf_status write_output(const char *bytes, size_t length, hf_error *error) {
    return write_all(STDOUT_FILENO, bytes, length)
               ? HF_OK
               : file_error(error, "standard output", "cannot be written");
}

static hf_status exists_already(const char *path, hf_error *error) {
    return hf_error_set(error, HF_FILE, "%s: exists already and is not overwritten", path);
}

/* Gives the temporary file its name unless that is taken. Where a file system knows no hard links (FAT on a memory stick), the
 * name is taken first by an empty file. */
static int give_new_name(const char *name, const char *target) {
    if (link(name, target) == 0) return 0;
    if (errno != EPERM && errno != EOPNOTSUPP && errno != ENOTSUP && errno != ENOSYS) return -1;
    int descriptor = open(target, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (descriptor < 0) return -1;
    (void)close(descriptor);
    if (rename(name, target) == 0) return 0;
    int reason = errno;
    (void)unlink(target);
    errno = reason;
    return -1;
}

static hf_status put(const char *target, const char *bytes, size_t length, bool replace, hf_error *error) {
    size_t size = strlen(target) + sizeof ".XXXXXX";
    char *name = malloc(size);
    if (!name) return hf_error_set(error, HF_MEMORY, "out of memory");
    (void)snprintf(name, size, "%s.XXXXXX", target);
    hf_status status = write_temporary(target, bytes, length, name, error);
    if (status == HF_OK && (replace ? rename(name, target) : give_new_name(name, target)) != 0)
        status = !replace && errno == EEXIST ? exists_already(target, error)
                                             : file_error(error, target, "cannot be written");
    if (name[0] && (status != HF_OK || !replace)) (void)unlink(name);
    if (status == HF_OK) sync_folder(target);
    free(name);
    return status;
}

/* Anything that is no regular file (a terminal, /dev/full, a pipe) is written to, not replaced. */
static hf_status write_special(const char *path, const char *bytes, size_t length, hf_error *error) {
    int descriptor = open(path, O_WRONLY | O_CLOEXEC);
    if (descriptor < 0) return file_error(error, path, "cannot be opened");
    hf_status status =
        write_all(descriptor, bytes, length) ? HF_OK : file_error(error, path, "cannot be written");
    if (close(descriptor) != 0 && status == HF_OK) status = file_error(error, path, "cannot be written");
    return status;
}

hf_status hf_file_replace(const char *path, const char *bytes, size_t length, hf_error *error) {
    struct stat about;
    if (strcmp(path, "-") == 0) return write_output(bytes, length, error);
    if (stat(path, &about) == 0 && S_ISDIR(about.st_mode))
        return hf_error_set(error, HF_FILE, "%s: is a folder, expected a file", path);
    if (stat(path, &about) == 0 && !S_ISREG(about.st_mode)) return write_special(path, bytes, length, error);
    char *real = realpath(path, NULL); /* NULL for a new file */
    if (!real && lstat(path, &about) == 0)
        return file_error(error, path, "is a symbolic link that leads to no file");
    hf_status status = put(real ? real : path, bytes, length, true, error);
    free(real);
    return status;
}

hf_status hf_file_create(const char *path, const char *bytes, size_t length, hf_error *error) {
    struct stat about;
    if (strcmp(path, "-") == 0) return write_output(bytes, length, error);
    if (lstat(path, &about) == 0) return exists_already(path, error);
    return put(path, bytes, length, false, error);
}
