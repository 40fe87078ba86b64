/* Stands between the program and the system (LD_PRELOAD) and has one call of the file work go wrong.
 *
 * HF_SHIM="fail CALL N ERRNO"   the N-th call of that name (from 1; "any": of all names together) fails with this errno
 * HF_SHIM="short N ERRNO"       the N-th write writes half, the next one fails with this errno
 * HF_SHIM="kill CALL N before"  the program is killed (SIGKILL) before that call, or "after" it, or "half-way" through a write
 * HF_SHIM="stop CALL N before"  the program is stopped (SIGSTOP) before that call, until it is told to go on
 * HF_SHIM_LOG=FILE              the names of all calls, one a line, in order
 *
 * What the C library does within itself (stdio, loading) does not come by here. */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

enum { MOST_NAMES = 32 };

static struct {
    const char *name;
    long count;
} calls[MOST_NAMES];

static char action[16], wanted[16], when[16];
static long number, all_calls;
static int error_number, log_file = -1;
static bool next_write_fails;

__attribute__((constructor)) static void read_wish(void) {
    const char *wish = getenv("HF_SHIM"), *log = getenv("HF_SHIM_LOG");
    if (log) log_file = (int)syscall(SYS_openat, AT_FDCWD, log, O_WRONLY | O_CREAT | O_APPEND, 0600);
    if (log_file >= 0 &&
        log_file < 100) { /* out of the way: the program is to get the numbers it would get */
        int high = (int)syscall(SYS_fcntl, log_file, F_DUPFD, 200);
        syscall(SYS_close, log_file);
        log_file = high;
    }
    if (!wish) return;
    (void)sscanf(wish, "%15s", action);
    if (strcmp(action, "short") == 0)
        (void)sscanf(wish, "%*s %ld %d", &number, &error_number);
    else
        (void)sscanf(wish, "%*s %15s %ld %15s", wanted, &number, when);
    if (strcmp(action, "fail") == 0) error_number = atoi(when);
}

static long count_call(const char *name) {
    all_calls++;
    for (int i = 0; i < MOST_NAMES; i++) {
        if (!calls[i].name) calls[i].name = name;
        if (strcmp(calls[i].name, name) == 0) return ++calls[i].count;
    }
    abort();
}

static void die(void) {
    syscall(SYS_kill, getpid(), SIGKILL);
    for (;;) (void)pause();
}

/* True when the call is to fail; errno is set. */
static bool enter(const char *name, bool *mine) {
    long count = count_call(name);
    if (log_file >= 0) {
        char line[32];
        int length = snprintf(line, sizeof line, "%s\n", name);
        syscall(SYS_write, log_file, line, (size_t)length);
    }
    bool any = strcmp(wanted, "any") == 0;
    *mine = any ? all_calls == number : strcmp(wanted, name) == 0 && count == number;
    if (*mine && strcmp(action, "kill") == 0 && strcmp(when, "before") == 0) die();
    if (*mine && strcmp(action, "stop") == 0) syscall(SYS_kill, getpid(), SIGSTOP);
    if (!*mine || strcmp(action, "fail") != 0) return false;
    errno = error_number;
    return true;
}

static void leave(bool mine) {
    if (mine && strcmp(action, "kill") == 0) die();
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))
#define STAND_IN(type, name, failed, parameters, arguments)                                                  \
    type name parameters {                                                                                   \
        bool mine;                                                                                           \
        if (enter(#name, &mine)) return failed;                                                              \
        type result = REAL(name) arguments;                                                                  \
        int kept = errno;                                                                                    \
        leave(mine);                                                                                         \
        errno = kept;                                                                                        \
        return result;                                                                                       \
    }

STAND_IN(int, fsync, -1, (int file), (file))
STAND_IN(int, close, -1, (int file), (file))
STAND_IN(int, rename, -1, (const char *from, const char *to), (from, to))
STAND_IN(int, link, -1, (const char *from, const char *to), (from, to))
STAND_IN(int, unlink, -1, (const char *path), (path))
STAND_IN(int, fchmod, -1, (int file, mode_t mode), (file, mode))
STAND_IN(int, fchown, -1, (int file, uid_t owner, gid_t group), (file, owner, group))
STAND_IN(int, flock, -1, (int file, int operation), (file, operation))
STAND_IN(int, stat, -1, (const char *restrict path, struct stat *restrict out), (path, out))
STAND_IN(int, lstat, -1, (const char *restrict path, struct stat *restrict out), (path, out))
STAND_IN(int, fstat, -1, (int file, struct stat *out), (file, out))
STAND_IN(int, faccessat, -1, (int folder, const char *path, int mode, int flags), (folder, path, mode, flags))
STAND_IN(ssize_t, read, -1, (int file, void *bytes, size_t size), (file, bytes, size))
STAND_IN(ssize_t, pread, -1, (int file, void *bytes, size_t size, off_t at), (file, bytes, size, at))
STAND_IN(DIR *, opendir, NULL, (const char *path), (path))
STAND_IN(char *, realpath, NULL, (const char *restrict path, char *restrict out), (path, out))

int open(const char *path, int flags, ...) {
    bool mine;
    va_list arguments;
    va_start(arguments, flags);
    mode_t mode = flags & O_CREAT ? (mode_t)va_arg(arguments, int) : 0;
    va_end(arguments);
    if (enter("open", &mine)) return -1;
    int result = REAL(open)(path, flags, mode);
    int kept = errno;
    leave(mine);
    errno = kept;
    return result;
}

ssize_t write(int file, const void *bytes, size_t size) {
    bool mine;
    if (enter("write", &mine)) return -1;
    if (next_write_fails) {
        next_write_fails = false;
        errno = error_number;
        return -1;
    }
    bool shortened = strcmp(action, "short") == 0 && calls[0].name && number > 0;
    for (int i = 0; shortened && i < MOST_NAMES && calls[i].name; i++)
        if (strcmp(calls[i].name, "write") == 0) shortened = calls[i].count == number;
    bool half = shortened || (mine && strcmp(when, "half-way") == 0);
    ssize_t result = REAL(write)(file, bytes, half ? size / 2 : size);
    int kept = errno;
    next_write_fails = shortened;
    leave(mine);
    errno = kept;
    return result;
}
