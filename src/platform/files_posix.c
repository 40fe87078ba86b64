#include "platform/files.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static hf_platform_kind kind_of(mode_t mode) {
    if (S_ISREG(mode)) return HF_PLATFORM_REGULAR;
    if (S_ISDIR(mode)) return HF_PLATFORM_FOLDER;
    if (S_ISFIFO(mode)) return HF_PLATFORM_PIPE;
    return S_ISLNK(mode) ? HF_PLATFORM_LINK : HF_PLATFORM_OTHER;
}

static bool tell(int result, const struct stat *status, hf_platform_about *out) {
    if (result != 0) return false;
    *out = (hf_platform_about){.kind = kind_of(status->st_mode),
                               .device = (uint64_t)status->st_dev,
                               .inode = (uint64_t)status->st_ino,
                               .names = (uint64_t)status->st_nlink,
                               .owner = (unsigned)status->st_uid,
                               .group = (unsigned)status->st_gid,
                               .mode = (unsigned)status->st_mode & 0777,
                               .changed_s = (int64_t)status->st_mtime};
    return true;
}

bool hf_platform_look(const char *path, hf_platform_about *out) {
    struct stat status;
    return tell(stat(path, &status), &status, out);
}

bool hf_platform_look_at_link(const char *path, hf_platform_about *out) {
    struct stat status;
    return tell(lstat(path, &status), &status, out);
}

bool hf_platform_look_open(int file, hf_platform_about *out) {
    struct stat status;
    return tell(fstat(file, &status), &status, out);
}

bool hf_platform_same_file(const hf_platform_about *a, const hf_platform_about *b) {
    return a->device == b->device && a->inode == b->inode;
}

bool hf_platform_is_ours(const hf_platform_about *about) {
    return about->owner == (unsigned)geteuid();
}

char *hf_platform_real_name(const char *path) {
    return realpath(path, NULL);
}

bool hf_platform_may_write(const char *path, const hf_platform_about *about) {
    errno = EACCES;
    return (about->mode & 0222) && faccessat(AT_FDCWD, path, W_OK, AT_EACCESS) == 0;
}

int hf_platform_open_read(const char *path) {
    return open(path, O_RDONLY | O_CLOEXEC);
}

int hf_platform_open_write(const char *path) {
    return open(path, O_WRONLY | O_CLOEXEC);
}

int hf_platform_open_append(const char *path, unsigned mode, bool *made) {
    int flags = O_RDWR | O_APPEND | O_NOFOLLOW | O_CLOEXEC;
    int file = open(path, flags | O_CREAT | O_EXCL, (mode_t)mode);
    *made = file >= 0;
    return file >= 0 || errno != EEXIST ? file : open(path, flags);
}

int hf_platform_open_fresh(const char *path, unsigned mode) {
    return open(path, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, (mode_t)mode);
}

long hf_platform_read(int file, char *bytes, size_t size) {
    ssize_t count;
    do count = read(file, bytes, size);
    while (count < 0 && errno == EINTR);
    return (long)count;
}

int hf_platform_last_byte(int file, char *byte) {
    struct stat status;
    ssize_t count;
    if (fstat(file, &status) != 0) return -1;
    if (status.st_size == 0) return 0;
    do count = pread(file, byte, 1, status.st_size - 1);
    while (count < 0 && errno == EINTR);
    if (count == 0) errno = EIO;
    return count == 1 ? 1 : -1;
}

bool hf_platform_write(int file, const char *bytes, size_t length) {
    while (length > 0) {
        ssize_t count = write(file, bytes, length);
        if (count < 0 && errno == EINTR) continue;
        if (count == 0) errno = EIO;
        if (count <= 0) return false;
        bytes += count;
        length -= (size_t)count;
    }
    return true;
}

bool hf_platform_give_rights(int file, const hf_platform_about *like) {
    struct stat now;
    mode_t mode = (mode_t)like->mode & 0777;
    if (fstat(file, &now) != 0) return false;
    uid_t owner = (uid_t)like->owner;
    gid_t group = (gid_t)like->group;
    bool same = now.st_uid == owner && now.st_gid == group;
    if (!same && fchown(file, owner, group) != 0 && now.st_gid != group &&
        fchown(file, (uid_t)-1, group) != 0)
        mode &= ~(mode_t)070 | (mode & 07) << 3;
    return fchmod(file, mode) == 0;
}

/* Some file systems cannot, and say so by EINVAL. */
bool hf_platform_sync(int file) {
    int result;
    do result = fsync(file);
    while (result != 0 && errno == EINTR);
    return result == 0 || errno == EINVAL;
}

/* Interrupted, it has closed all the same on the systems there are; a second time might close a file of another thread. */
bool hf_platform_close(int file) {
    return close(file) == 0 || errno == EINTR;
}

bool hf_platform_rename(const char *from, const char *to) {
    return rename(from, to) == 0;
}

bool hf_platform_link(const char *from, const char *to) {
    return link(from, to) == 0;
}

bool hf_platform_remove(const char *path) {
    return unlink(path) == 0;
}

bool hf_platform_no_links(void) {
    return errno == EPERM || errno == EOPNOTSUPP || errno == ENOTSUP || errno == ENOSYS;
}

bool hf_platform_no_room(void) {
    return errno == ENOSPC || errno == EDQUOT || errno == EFBIG;
}

/* Malloc'ed; NULL when memory has run out. */
static char *folder_of(const char *path) {
    const char *slash = strrchr(path, '/');
    size_t length = slash ? (slash == path ? 1 : (size_t)(slash - path)) : 1;
    char *folder = malloc(length + 1);
    if (!folder) return NULL;
    memcpy(folder, slash ? path : ".", length);
    folder[length] = '\0';
    return folder;
}

void hf_platform_sync_folder(const char *path) {
    char *folder = folder_of(path);
    int file = folder ? open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
    if (file >= 0) {
        (void)fsync(file);
        (void)close(file);
    }
    free(folder);
}

bool hf_platform_take(int file, bool *taken) {
    int result;
    do result = flock(file, LOCK_EX | LOCK_NB);
    while (result != 0 && errno == EINTR);
    *taken = result != 0 && errno == EWOULDBLOCK;
    return result == 0;
}

void hf_platform_each_beside(const char *path,
                             void (*visit)(const char *folder, const char *name, void *context),
                             void *context) {
    char *folder = folder_of(path);
    DIR *directory = folder ? opendir(folder) : NULL;
    if (directory) {
        for (const struct dirent *entry = readdir(directory); entry; entry = readdir(directory))
            visit(folder, entry->d_name, context);
        (void)closedir(directory);
    }
    free(folder);
}

void hf_platform_unique(char out[17]) {
    static atomic_uint count;
    struct timespec now = {0, 0};
    (void)clock_gettime(CLOCK_REALTIME, &now);
    uint64_t x = (uint64_t)now.tv_sec * 1000000000U + (uint64_t)now.tv_nsec;
    x ^= (uint64_t)getpid() << 40 ^ (uint64_t)atomic_fetch_add(&count, 1) << 32;
    /* Mixed (the finalizer of splitmix64), so that neighbours in time look unlike each other. */
    x = (x ^ x >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    x = (x ^ x >> 27) * UINT64_C(0x94D049BB133111EB);
    (void)snprintf(out, 17, "%016llx", (unsigned long long)(x ^ x >> 31));
}
