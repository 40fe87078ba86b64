#include "platform/process.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

enum { PIECE = 65536, READ = 0, WRITE = 1 };

static void close_both(const int ends[2]) {
    (void)close(ends[READ]);
    (void)close(ends[WRITE]);
}

/* A child of ours with these ends as its standard input and output. -1: not started, with the reason in errno. */
static pid_t start(const char *const *words, int in, int out) {
    posix_spawn_file_actions_t actions;
    pid_t child = -1;
    int failed = posix_spawn_file_actions_init(&actions);
    if (failed) {
        errno = failed;
        return -1;
    }
    failed = posix_spawn_file_actions_adddup2(&actions, in, STDIN_FILENO);
    if (!failed) failed = posix_spawn_file_actions_adddup2(&actions, out, STDOUT_FILENO);
    /* posix_spawn takes the words as they are and changes none. */
    if (!failed)
        failed = posix_spawnp(&child, words[0], &actions, NULL, (char *const *)(uintptr_t)words, environ);
    (void)posix_spawn_file_actions_destroy(&actions);
    errno = failed;
    return failed ? -1 : child;
}

typedef struct filter {
    int to, from; /* -1: closed */
    const char *text;
    size_t left;
    hf_platform_take take;
    void *context;
} filter;

static void give(filter *f) {
    ssize_t written = f->left ? write(f->to, f->text, f->left) : 0;
    if (written < 0 && (errno == EAGAIN || errno == EINTR)) return;
    if (written > 0) {
        f->text += written;
        f->left -= (size_t)written;
    }
    if (written >= 0 && f->left) return;
    (void)close(f->to);
    f->to = -1;
}

/* False when what comes can be read or taken no longer. */
static bool receive(filter *f) {
    char piece[PIECE];
    ssize_t length = read(f->from, piece, sizeof piece);
    if (length < 0) return errno == EINTR;
    if (length > 0) return f->take(f->context, piece, (size_t)length);
    (void)close(f->from);
    f->from = -1;
    return true;
}

static bool pump(filter *f) {
    while (f->from >= 0) {
        struct pollfd ends[] = {{f->from, POLLIN, 0}, {f->to, POLLOUT, 0}};
        if (poll(ends, f->to >= 0 ? 2 : 1, -1) < 0 && errno != EINTR) return false;
        if (f->to >= 0 && ends[1].revents) give(f);
        if (ends[0].revents && !receive(f)) return false;
    }
    return f->left == 0;
}

static bool ended_well(pid_t child) {
    int status = 0;
    while (waitpid(child, &status, 0) < 0)
        if (errno != EINTR) return false;
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

static hf_platform_filtered run(const char *const *words, const int in[2], const int out[2], filter *f) {
    for (int i = 0; i < 2; i++) {
        (void)fcntl(in[i], F_SETFD, FD_CLOEXEC);
        (void)fcntl(out[i], F_SETFD, FD_CLOEXEC);
    }
    (void)fcntl(in[WRITE], F_SETFL, O_NONBLOCK);
    pid_t child = start(words, in[READ], out[WRITE]);
    int why = errno;
    (void)close(in[READ]);
    (void)close(out[WRITE]);
    f->to = in[WRITE];
    f->from = out[READ];
    bool whole = child >= 0 && pump(f);
    if (f->to >= 0) (void)close(f->to);
    if (f->from >= 0) (void)close(f->from);
    if (child < 0) return why == ENOENT ? HF_PLATFORM_NO_PROGRAM : HF_PLATFORM_NOT_FILTERED;
    return ended_well(child) && whole ? HF_PLATFORM_FILTERED : HF_PLATFORM_NOT_FILTERED;
}

hf_platform_filtered hf_platform_filter(const char *const *words, const char *text, size_t length,
                                        hf_platform_take take, void *context) {
    int in[2], out[2];
    filter f = {-1, -1, text, length, take, context};
    /* A program that ends before it has read everything must not end us. */
    struct sigaction ignore = {.sa_handler = SIG_IGN}, before;
    if (pipe(in) != 0) return HF_PLATFORM_NOT_FILTERED;
    if (pipe(out) != 0) {
        close_both(in);
        return HF_PLATFORM_NOT_FILTERED;
    }
    (void)sigaction(SIGPIPE, &ignore, &before);
    hf_platform_filtered done = run(words, in, out, &f);
    (void)sigaction(SIGPIPE, &before, NULL);
    return done;
}

char *hf_platform_program_file(void) {
    return realpath("/proc/self/exe", NULL);
}
