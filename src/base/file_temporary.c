#include <stdio.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "base/file_parts.h"
#include "platform/signals.h"

/* .holdfast-<16 digits>-<4 digits>.tmp: the four are the first of the SHA-256 of the sixteen, so that nobody else's file is taken
 * for one of these. */
static const char stem[] = ".holdfast-", ending[] = ".tmp";
enum { STEM = sizeof stem - 1, UNIQUE = 16, CHECK = 4, NAME = STEM + UNIQUE + 1 + CHECK + sizeof ending };
enum { TRIES = 100, OLD_S = 3600 };

static void compose(const char unique[UNIQUE + 1], char out[NAME]) {
    char digest[65];
    hf_file_sha256(unique, UNIQUE, digest);
    (void)snprintf(out, NAME, "%s%.*s-%.*s%s", stem, UNIQUE, unique, CHECK, digest, ending);
}

static bool is_ours_by_name(const char *name) {
    char unique[UNIQUE + 1], expected[NAME];
    if (strlen(name) != NAME - 1 || strncmp(name, stem, STEM) != 0) return false;
    memcpy(unique, name + STEM, UNIQUE);
    unique[UNIQUE] = '\0';
    compose(unique, expected);
    return strcmp(name, expected) == 0;
}

/* The name beside `target`; NULL when memory has run out. */
static char *beside(const char *target) {
    char unique[UNIQUE + 1], name[NAME];
    const char *slash = strrchr(target, '/');
    size_t folder = slash ? (size_t)(slash - target) + 1 : 0;
    char *out = hf_memory_take(folder + NAME, 1);
    if (!out) return NULL;
    hf_platform_unique(unique);
    compose(unique, name);
    memcpy(out, target, folder);
    memcpy(out + folder, name, NAME);
    return out;
}

/* Watched before it exists: a signal between the two finds nothing, one after them finds its name. */
static int open_one(const char *target, const hf_platform_about *like, hf_temporary *out) {
    int file = -1;
    for (int i = 0; i < TRIES && file < 0; i++) {
        hf_platform_about there;
        out->name = beside(target);
        if (!out->name) return -1;
        out->ticket = hf_platform_watch(out->name);
        file = hf_platform_open_fresh(out->name, like ? 0600 : 0666);
        if (file >= 0) break;
        hf_platform_unwatch(out->ticket);
        bool again = hf_platform_look_at_link(out->name, &there);
        hf_memory_free(out->name);
        out->name = NULL;
        if (!again) break;
    }
    return file;
}

hf_status hf_temporary_write(const char *target, const hf_platform_about *like, const char *bytes,
                             size_t length, hf_temporary *out, hf_error *error) {
    hf_platform_about made = {0};
    bool taken;
    *out = (hf_temporary){NULL, 0, 0};
    int file = open_one(target, like, out);
    if (file < 0) return hf_file_unwritten(error, target, length);
    (void)hf_platform_take(file,
                           &taken); /* says that it is in use; a file system without locks has only the age */
    bool good = hf_platform_write(file, bytes, length) && (!like || hf_platform_give_rights(file, like)) &&
                hf_platform_sync(file) && hf_platform_look_open(file, &made);
    hf_status status = good ? HF_OK : hf_file_unwritten(error, target, length);
    if (!hf_platform_close(file) && good) status = hf_file_unwritten(error, target, length);
    out->made_s = made.changed_s;
    if (status != HF_OK) hf_temporary_end(out, false);
    return status;
}

void hf_temporary_end(hf_temporary *temporary, bool kept) {
    if (!kept) (void)hf_platform_remove(temporary->name);
    hf_platform_unwatch(temporary->ticket);
    hf_memory_free(temporary->name);
    temporary->name = NULL;
}

static void remove_unused(const char *path) {
    bool taken;
    int file = hf_platform_open_read(path);
    if (file < 0) return;
    if (hf_platform_take(file, &taken)) (void)hf_platform_remove(path);
    (void)hf_platform_close(file);
}

static void visit(const char *folder, const char *name, void *context) {
    const int64_t *made_s = context;
    hf_platform_about about;
    if (!is_ours_by_name(name)) return;
    hf_text path = {0};
    hf_text_addf(&path, "%s/%s", folder, name);
    if (!path.failed && hf_platform_look_at_link(path.bytes, &about) && about.kind == HF_PLATFORM_REGULAR &&
        hf_platform_is_ours(&about) && *made_s - about.changed_s >= OLD_S)
        remove_unused(path.bytes);
    hf_text_free(&path);
}

void hf_temporary_sweep(const char *target, int64_t made_s) {
    hf_platform_each_beside(target, visit, &made_s);
}
