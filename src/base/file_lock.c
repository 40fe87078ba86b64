#include "holdfast/base/file_lock.h"

#include <errno.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "base/file_parts.h"
#include "platform/clock.h"

/* What another program may hold a lock for, and how often to ask. */
static const double patience_s = 10, first_wait_s = 0.001, longest_wait_s = 0.05;
static const char log_ending[] = ".log";

struct hf_file_lock {
    const char *path; /* as it was typed, for messages */
    char *real, *log;
    int file; /* the log: open to read and append */
};

static hf_status busy(const hf_file_lock *lock, hf_error *error) {
    return hf_error_set(error, HF_FILE,
                        "%s: another program has held %s for 10 seconds; nothing was written, try again",
                        lock->path, lock->log);
}

static hf_status cannot_lock(const hf_file_lock *lock, hf_error *error) {
    return hf_error_set(error, HF_FILE, "%s: cannot be locked by %s: %s; nothing was written", lock->path,
                        lock->log, strerror(errno));
}

/* The log is made with the rights of the file it belongs to, so that whoever may change the one may lock by the other. */
static hf_status open_log(hf_file_lock *lock, hf_error *error) {
    hf_platform_about about, log;
    bool made;
    if (!hf_platform_look(lock->real, &about)) return hf_file_error(error, lock->path, "cannot be opened");
    about.mode &= 0666;
    lock->file = hf_platform_open_append(lock->log, about.mode, &made);
    if (lock->file < 0) return cannot_lock(lock, error);
    if (made && !hf_platform_give_rights(lock->file, &about)) return cannot_lock(lock, error);
    if (made) hf_platform_sync_folder(lock->log); /* what will stand in it must be found after a power cut */
    if (hf_platform_look_open(lock->file, &log) && log.kind == HF_PLATFORM_REGULAR) return HF_OK;
    return hf_error_set(error, HF_FILE, "%s: is no regular file, but %s needs that name for its lock",
                        lock->log, lock->path);
}

static hf_status wait_for(const hf_file_lock *lock, double until, hf_error *error) {
    bool taken;
    double pause = first_wait_s;
    while (!hf_platform_take(lock->file, &taken)) {
        if (!taken) return cannot_lock(lock, error);
        if (hf_platform_seconds() >= until) return busy(lock, error);
        hf_platform_wait(pause);
        pause = 2 * pause < longest_wait_s ? 2 * pause : longest_wait_s;
    }
    return HF_OK;
}

/* Whether the log that was taken still stands under its name: somebody may have removed it while it was waited for. */
static bool still_there(const hf_file_lock *lock) {
    hf_platform_about held, named;
    return hf_platform_look_open(lock->file, &held) && hf_platform_look_at_link(lock->log, &named) &&
           hf_platform_same_file(&held, &named);
}

static hf_status take(hf_file_lock *lock, hf_error *error) {
    double until = hf_platform_seconds() + patience_s;
    for (;;) {
        hf_status status = open_log(lock, error);
        if (status == HF_OK) status = wait_for(lock, until, error);
        if (status != HF_OK || still_there(lock)) return status;
        (void)hf_platform_close(lock->file);
        lock->file = -1;
        if (hf_platform_seconds() >= until) return busy(lock, error);
    }
}

hf_status hf_file_log_name(const char *path, hf_text *out, hf_error *error) {
    char *real = hf_platform_real_name(path);
    if (!real) return hf_file_error(error, path, "cannot be opened");
    hf_text_addf(out, "%s%s", real, log_ending);
    hf_memory_free(real);
    return out->failed ? hf_error_set(error, HF_MEMORY, "out of memory") : HF_OK;
}

bool hf_file_of_lock(const char *path, hf_text *file) {
    char *real = hf_platform_real_name(path);
    size_t length = real ? strlen(real) : 0, ending = strlen(log_ending);
    bool named = length > ending && strcmp(real + length - ending, log_ending) == 0;
    if (named) hf_text_add_bytes(file, real, length - ending);
    hf_memory_free(real);
    return named && !file->failed && hf_file_exists(file->bytes);
}

hf_status hf_file_lock_take(const char *path, hf_file_lock **out, hf_error *error) {
    hf_text log = {0};
    *out = NULL;
    if (hf_file_is_pipe(path))
        return hf_error_set(error, HF_FILE, "%s: is a pipe, expected a file that can be changed", path);
    hf_status status = hf_file_writable(path, error);
    if (status != HF_OK) return status;
    hf_file_lock *lock = hf_memory_take_zeroed(1, sizeof *lock);
    if (!lock) return hf_error_set(error, HF_MEMORY, "out of memory");
    *lock = (hf_file_lock){.path = path, .real = hf_platform_real_name(path), .file = -1};
    hf_text_addf(&log, "%s%s", lock->real ? lock->real : path, log_ending);
    lock->log = log.bytes;
    if (!lock->real)
        status = hf_file_error(error, path, "cannot be opened");
    else if (log.failed)
        status = hf_error_set(error, HF_MEMORY, "out of memory");
    else
        status = take(lock, error);
    if (status == HF_OK)
        *out = lock;
    else
        hf_file_lock_release(lock);
    return status;
}

void hf_file_lock_release(hf_file_lock *lock) {
    if (!lock) return;
    if (lock->file >= 0) (void)hf_platform_close(lock->file);
    hf_memory_free(lock->real);
    hf_memory_free(lock->log);
    hf_memory_free(lock);
}

static hf_status is_unchanged(const hf_file_lock *lock, const char sha256[65], bool *unchanged,
                              hf_error *error) {
    char now[65];
    hf_text text = {0};
    hf_status status = hf_file_read(lock->real, SIZE_MAX / 4, &text, error);
    hf_file_sha256(text.bytes ? text.bytes : "", text.length, now);
    *unchanged = status == HF_OK && strcmp(now, sha256) == 0;
    hf_text_free(&text);
    return status;
}

/* In one write, so that no line of another stands within it; behind what a run that was cut off has left. */
hf_status hf_file_log_add(hf_file_lock *lock, const hf_text *line, hf_error *error) {
    char last = '\n';
    hf_text whole = {0};
    bool good = hf_platform_last_byte(lock->file, &last) >= 0;
    if (last != '\n') hf_text_add(&whole, "\n");
    hf_text_add_bytes(&whole, line->bytes, line->length);
    hf_status status = whole.failed ? hf_error_set(error, HF_MEMORY, "out of memory") : HF_OK;
    if (status == HF_OK &&
        !(good && hf_platform_write(lock->file, whole.bytes, whole.length) && hf_platform_sync(lock->file)))
        status = hf_file_unwritten(error, lock->log, whole.length);
    hf_text_free(&whole);
    return status;
}

/* In this order, so that whatever ends the program leaves the old text or the new: the new text on the disk beside the old, a last
 * look at the old, the entry of the log on the disk, the new name, the folder. */
hf_status hf_file_swap(hf_file_lock *lock, const char sha256[65], const hf_text *text, const hf_text *entry,
                       bool *changed, hf_error *error) {
    hf_platform_about about;
    hf_temporary temporary;
    bool unchanged = false;
    *changed = false;
    hf_status status = hf_file_writable(lock->real, error);
    if (status != HF_OK) return status;
    if (!hf_platform_look(lock->real, &about)) return hf_file_error(error, lock->path, "cannot be opened");
    status = hf_temporary_write(lock->real, &about, text->bytes, text->length, &temporary, error);
    if (status != HF_OK) return status;
    status = is_unchanged(lock, sha256, &unchanged, error);
    if (unchanged && entry) status = hf_file_log_add(lock, entry, error);
    if (status == HF_OK && unchanged && !hf_platform_rename(temporary.name, lock->real))
        status = hf_file_unwritten(error, lock->path, text->length);
    *changed = status == HF_OK && !unchanged;
    hf_temporary_end(&temporary, status == HF_OK && unchanged);
    if (status != HF_OK || *changed) return status;
    hf_platform_sync_folder(lock->real);
    hf_temporary_sweep(lock->real, temporary.made_s);
    return HF_OK;
}
