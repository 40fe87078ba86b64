/* Feeds files to one fuzz target without a fuzzing compiler: every file of the given folders as it is, and then, with
 * --mutants N, N altered copies of each (bytes changed, cut out, doubled, the end cut off), the same ones on every run.
 * A target that finds a broken promise aborts. Linked with a fuzzing runtime instead of this file, the same targets search
 * freely. Usage: TARGET [--mutants N] FOLDER… */
#include <dirent.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/file.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { LONGEST_FILE = 1 << 20, LONGEST_PATH = 1024 };

typedef struct tally {
    size_t files, mutants;
} tally;

/* A small generator (xorshift, Marsaglia 2003): the mutants need variety, not quality. */
static uint64_t next_random(uint64_t *state) {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return *state;
}

/* The copy lies in a block of exactly its size, so that a memory checker sees a read beyond its end. */
static void feed(const char *bytes, size_t length) {
    uint8_t *copy = malloc(length ? length : 1);
    if (!copy) abort();
    if (length) memcpy(copy, bytes, length);
    (void)LLVMFuzzerTestOneInput(copy, length);
    free(copy);
}

/* Bytes that mean something in our files, more telling than any byte. */
static char telling_byte(uint64_t *state) {
    static const char bytes[] = "{}[]\",:\\ \n\t0123456789-+.eEu/#;=\x80\xBF\xC3\xED\xEF\xFF";
    return bytes[next_random(state) % sizeof bytes];
}

static void mutate_once(char *bytes, size_t *length, uint64_t *state) {
    size_t at = next_random(state) % *length, span = 1 + next_random(state) % 8;
    if (span > *length - at) span = *length - at;
    switch (next_random(state) % 5) {
    case 0:
        bytes[at] = (char)next_random(state);
        break;
    case 1:
        bytes[at] = telling_byte(state);
        break;
    case 2:
        *length = at;
        break;
    case 3: /* cut out */
        memmove(bytes + at, bytes + at + span, *length - at - span);
        *length -= span;
        break;
    default: /* doubled; there is room for twice the length */
        memmove(bytes + at + span, bytes + at, *length - at);
        *length += span;
    }
}

static void feed_mutants(const hf_text *file, size_t count, tally *done) {
    uint64_t state = 0x9E3779B97F4A7C15u;
    char *bytes = malloc(2 * file->length + 64);
    if (!bytes) abort();
    for (size_t i = 0; file->length && i < count; i++) {
        size_t length = file->length, changes = 1 + next_random(&state) % 4;
        memcpy(bytes, file->bytes, length);
        while (changes-- > 0 && length > 0 && length + 8 <= 2 * file->length + 64)
            mutate_once(bytes, &length, &state);
        feed(bytes, length);
        done->mutants++;
    }
    free(bytes);
}

static void feed_file(const char *path, size_t mutants, tally *done) {
    hf_text text = {0};
    hf_error error;
    if (hf_file_read(path, LONGEST_FILE, &text, &error) != HF_OK) {
        (void)fprintf(stderr, "%s\n", error.message);
        exit(1);
    }
    feed(text.bytes, text.length);
    done->files++;
    feed_mutants(&text, mutants, done);
    hf_text_free(&text);
}

static void feed_folder(const char *folder, size_t mutants, tally *done) {
    DIR *directory = opendir(folder);
    size_t before = done->files;
    if (!directory) {
        (void)fprintf(stderr, "%s: no such folder\n", folder);
        exit(1);
    }
    for (const struct dirent *entry = readdir(directory); entry; entry = readdir(directory)) {
        char path[LONGEST_PATH];
        if (entry->d_name[0] == '.') continue;
        (void)snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        feed_file(path, mutants, done);
    }
    (void)closedir(directory);
    if (done->files > before) return;
    (void)fprintf(stderr, "%s: an empty folder tests nothing\n", folder);
    exit(1);
}

int main(int count, char **arguments) {
    tally done = {0, 0};
    size_t mutants = 0;
    int first = 1;
    if (count > 2 && strcmp(arguments[1], "--mutants") == 0) {
        mutants = strtoul(arguments[2], NULL, 10);
        first = 3;
    }
    if (first >= count) {
        (void)fprintf(stderr, "usage: %s [--mutants N] FOLDER...\n", arguments[0]);
        return 2;
    }
    for (int i = first; i < count; i++) feed_folder(arguments[i], mutants, &done);
    printf("%zu files and %zu mutants kept every promise\n", done.files, done.mutants);
    return 0;
}
