#include "platform/signals.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { TICKETS = 8 };

/* Whoever exchanges a name out of its place owns it: the handler, which removes the file, or hf_platform_unwatch. */
static _Atomic(char *) watched[TICKETS];
static void (*_Atomic at_signal)(void);

size_t hf_platform_watch(const char *path) {
    char *copy = strdup(path);
    for (size_t i = 0; copy && i < TICKETS; i++) {
        char *nothing = NULL;
        if (atomic_compare_exchange_strong(&watched[i], &nothing, copy)) return i;
    }
    free(copy);
    return TICKETS;
}

void hf_platform_unwatch(size_t ticket) {
    if (ticket < TICKETS) free(atomic_exchange(&watched[ticket], NULL));
}

void hf_platform_at_signal(void (*call)(void)) {
    at_signal = call;
}

/* The action was reset when this began, so that the signal, raised again, ends the program as it would have. */
static void end_by(int number) {
    int kept = errno;
    void (*call)(void) = atomic_exchange(&at_signal, NULL);
    if (call) call();
    for (size_t i = 0; i < TICKETS; i++) {
        char *name = atomic_exchange(&watched[i], NULL);
        if (name) (void)unlink(name);
    }
    (void)raise(number);
    errno = kept;
}

static void handle(int number) {
    struct sigaction now, wanted;
    if (sigaction(number, NULL, &now) != 0 || now.sa_handler == SIG_IGN) return; /* nohup */
    memset(&wanted, 0, sizeof wanted);
    wanted.sa_handler = end_by;
    wanted.sa_flags = (int)SA_RESETHAND;
    (void)sigfillset(&wanted.sa_mask);
    (void)sigaction(number, &wanted, NULL);
}

/* The lowest free number is given out next, so that the streams are looked at in order. Reading from a stream that is open for writing
 * only fails as from a closed one, and the other way round. */
static void hold_closed_streams(void) {
    for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; stream++)
        if (fcntl(stream, F_GETFD) == -1 && errno == EBADF)
            (void)open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

void hf_platform_prepare(void) {
    hold_closed_streams();
    (void)signal(SIGPIPE, SIG_IGN);
    (void)signal(SIGXFSZ, SIG_IGN);
    handle(SIGINT);
    handle(SIGTERM);
    handle(SIGHUP);
}
