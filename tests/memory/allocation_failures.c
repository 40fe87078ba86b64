/* Refuses memory to the program, one allocation after the other, and looks at what it then says.
 *
 * usage: allocation_failures (--each | --sites[=MOST] | NUMBER) FOLDER FILE COMMAND [WORD…]
 *
 * NUMBER: that one alone and in this process, for a debugger.
 * The command runs in a child process, first with all the memory it wants. Then allocations are refused: one alone, and one with all
 * that follow it; with --each every one, with --sites the first, middle and last of each place in the code (told by the functions above it),
 * or MOST of these spread evenly over the run.
 * What may happen: the same bytes with the same exit code, or exit code 5 with nothing on standard output and one line that says why. A
 * shorter answer, another answer, or a good file called bad fails, and so does a signal. Only what our own objects and the JSON reader's
 * hooks ask for is counted: the linker puts __wrap_malloc in the place of malloc there. */
#include <execinfo.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>
#include "holdfast/base/json.h"
#include "holdfast/command/command.h"

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *old, size_t size);

enum { MOST = 2000000, FRAMES = 8, SKIPPED = 2, SECONDS = 120, SHOWN = 20, MOST_WORDS = 16 };

typedef struct ledger {
    size_t asked;
    uint64_t site[MOST]; /* of each allocation, in order */
} ledger;

static ledger *book;
static bool writing_book, for_good;
static size_t refused_at; /* counted from 1; 0: none */

static uint64_t site_now(void) {
    void *frames[FRAMES];
    int count = backtrace(frames, FRAMES);
    uint64_t hash = 14695981039346656037U;
    for (int i = SKIPPED; i < count; i++) hash = (hash ^ (uint64_t)(uintptr_t)frames[i]) * 1099511628211U;
    return hash;
}

static bool refuses(void) {
    size_t number = ++book->asked;
    if (writing_book && number <= MOST) book->site[number - 1] = site_now();
    return refused_at && (for_good ? number >= refused_at : number == refused_at);
}

void *__wrap_malloc(size_t size) {
    return book && refuses() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size) {
    return book && refuses() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *old, size_t size) {
    return book && refuses() ? NULL : __real_realloc(old, size);
}

/* --- One run ------------------------------------------------------------------------------------------ */

typedef struct outcome {
    int status; /* of waitpid */
    char *said, *complained;
} outcome;

static int streams[2]; /* files without a name */

static int nameless(void) {
    char name[] = "/tmp/holdfast-memory.XXXXXX";
    int stream = mkstemp(name);
    if (stream >= 0) (void)unlink(name);
    return stream;
}

static char *contents(int stream) {
    off_t length = lseek(stream, 0, SEEK_END);
    char *text = __real_calloc((size_t)length + 1, 1);
    if (!text || pread(stream, text, (size_t)length, 0) != length) abort();
    return text;
}

static void child(int count, char **words) {
    (void)alarm(SECONDS);
    for (int i = 0; i < 2; i++)
        if (dup2(streams[i], i + 1) < 0) _exit(99);
    hf_json_count_memory();
    int code = hf_command_main(count, words);
    (void)fflush(NULL);
    _exit(code);
}

static outcome run(int count, char **words, size_t number, bool from_then_on) {
    outcome out;
    for (int i = 0; i < 2; i++)
        if (ftruncate(streams[i], 0) != 0 || lseek(streams[i], 0, SEEK_SET) != 0) abort();
    (void)fflush(NULL);
    book->asked = 0;
    refused_at = number;
    for_good = from_then_on;
    pid_t process = fork();
    if (process == 0) child(count, words);
    if (process < 0 || waitpid(process, &out.status, 0) != process) abort();
    out.said = contents(streams[0]);
    out.complained = contents(streams[1]);
    return out;
}

static void forget(outcome *o) {
    free(o->said);
    free(o->complained);
}

/* --- Judging ------------------------------------------------------------------------------------------ */

static const char *fault(const outcome *whole, const outcome *now) {
    if (!WIFEXITED(now->status)) return "ended by a signal";
    int code = WEXITSTATUS(now->status);
    if (code == 5) {
        if (now->said[0]) return "exit code 5 with something on standard output";
        const char *line = strstr(now->complained, "not enough memory");
        return line && strchr(line, '\n') && !strchr(line, '\n')[1]
                   ? NULL
                   : "exit code 5 without its sentence as the last line";
    }
    if (now->status != whole->status) return "another exit code";
    return strcmp(now->said, whole->said) == 0 ? NULL : "another answer";
}

static size_t try_one(const outcome *whole, int count, char **words, size_t number) {
    size_t faults = 0;
    for (int good = 0; good < 2; good++) {
        outcome now = run(count, words, number, good);
        const char *words_of_it = fault(whole, &now);
        if (words_of_it) {
            faults++;
            printf("allocation %zu refused%s: %s (status %x): %.200s\n", number,
                   good ? ", and all that follow" : "", words_of_it, (unsigned)now.status, now.complained);
        }
        forget(&now);
    }
    return faults;
}

/* First, middle and last of the allocations from the same place. */
static bool is_chosen(size_t at, size_t total) {
    size_t before = 0, after = 0;
    for (size_t i = 0; i < total; i++) {
        if (book->site[i] != book->site[at]) continue;
        before += i < at;
        after += i > at;
    }
    return before == 0 || after == 0 || before == (before + after) / 2;
}

int main(int count, char **words) {
    if (count < 5 || chdir(words[2]) != 0) return 2;
    bool each = strcmp(words[1], "--each") == 0;
    static const char sites_at_most[] = "--sites=";
    size_t most = SIZE_MAX;
    if (strncmp(words[1], sites_at_most, sizeof sites_at_most - 1) == 0)
        most = strtoul(words[1] + sizeof sites_at_most - 1, NULL, 10);
    char *line[MOST_WORDS] = {words[0], words[4], words[3]};
    int length = 3;
    for (int i = 5; i < count && length < MOST_WORDS; i++) line[length++] = words[i];
    void *frames[FRAMES];
    (void)backtrace(frames, FRAMES); /* it takes memory of its own the first time */
    for (int i = 0; i < 2; i++)
        if ((streams[i] = nameless()) < 0) return 2;
    book = mmap(NULL, sizeof *book, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (book == MAP_FAILED) return 2;
    refused_at = strtoul(words[1], NULL, 10);
    if (refused_at) child(length, line);
    writing_book = true;
    outcome whole = run(length, line, 0, false);
    writing_book = false;
    size_t total = book->asked, tried = 0, faults = 0;
    bool answered = WIFEXITED(whole.status) && WEXITSTATUS(whole.status) <= 1 && whole.said[0];
    if (!answered || total == 0 || total > MOST) {
        printf("no answer with all the memory wanted (%zu allocations): %s\n", total, whole.complained);
        return 1;
    }
    size_t chosen = 0, listed = 0;
    static size_t list[MOST];
    for (size_t i = 0; i < total; i++)
        if (each || is_chosen(i, total)) list[listed++] = i + 1;
    for (; chosen < listed && faults < SHOWN; chosen++) {
        bool falls_due = most >= listed || (chosen + 1) * most / listed > chosen * most / listed;
        if (!falls_due) continue;
        tried++;
        faults += try_one(&whole, length, line, list[chosen]);
    }
    printf("%s: %zu allocations, %zu refused once and from then on, %zu faults\n", words[4], total, tried,
           faults);
    forget(&whole);
    return faults > 0;
}
