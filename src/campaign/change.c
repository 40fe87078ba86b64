#include "holdfast/campaign/change.h"

#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/file_lock.h"
#include "holdfast/base/memory.h"
#include "holdfast/campaign/journal.h"

/* Whoever saves the file more often than this while it is being changed is no person. */
enum { MOST_TIMES = 5 };

/* Nothing is written where nothing changes. */
static hf_status put(hf_campaign_change *change, hf_file_lock *lock, const hf_text *text, bool *changed,
                     hf_error *error) {
    hf_text entry = {0};
    *changed = false;
    change->same = strcmp(change->before->sha256, change->after->sha256) == 0;
    if (change->same) return HF_OK;
    change->names = hf_file_names(change->path);
    hf_journal_line(change->at, change->command, change->takes_back, change->before, change->after, &entry);
    hf_status status = entry.failed
                           ? hf_error_set(error, HF_MEMORY, "out of memory")
                           : hf_file_swap(lock, change->before->sha256, text, &entry, changed, error);
    hf_text_free(&entry);
    return status;
}

static hf_status make_once(hf_arena *arena, hf_campaign_change *change, hf_file_lock *lock, bool *changed,
                           hf_error *error) {
    hf_text text = {0};
    size_t refusals = hf_memory_refusals();
    hf_status status = hf_campaign_read(arena, change->path, &change->before, &change->findings, error);
    change->old = change->findings;
    if (status == HF_OK) status = change->edit(change->context, change->before, &text, error);
    if (status == HF_OK && text.failed) status = hf_error_set(error, HF_MEMORY, "out of memory");
    char *kept = status == HF_OK ? hf_arena_text(arena, text.bytes, text.length) : NULL;
    if (status == HF_OK && !kept) status = hf_error_set(error, HF_MEMORY, "out of memory");
    /* Read back before it is written: what cannot be read must not take the place of what can. */
    if (status == HF_OK)
        status = hf_campaign_parse(arena, change->path, kept, text.length, &change->after, &change->findings);
    if (status == HF_OK && hf_memory_refusals() != refusals) /* then the change may not be whole */
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (status == HF_OK) status = put(change, lock, &text, changed, error);
    hf_text_free(&text);
    return status;
}

hf_status hf_campaign_change_make(hf_arena *arena, hf_campaign_change *change, hf_error *error) {
    hf_file_lock *lock;
    bool changed = true;
    change->before = change->after = NULL;
    if (!change->at || !change->command) return hf_error_set(error, HF_MEMORY, "out of memory");
    memset(&change->findings, 0, sizeof change->findings);
    hf_status status = hf_file_lock_take(change->path, &lock, error);
    for (int i = 0; i < MOST_TIMES && status == HF_OK && changed; i++)
        status = make_once(arena, change, lock, &changed, error);
    if (status == HF_OK && changed)
        status = hf_error_set(
            error, HF_FILE, "%s: changed meanwhile, again and again, by another program; nothing was written",
            change->path);
    hf_file_lock_release(lock);
    return status;
}

static size_t past_blanks(const char *text, size_t at, size_t length) {
    while (at < length && text[at] && strchr(" \t\r\n", text[at])) at++;
    return at;
}

/* Behind the text that opens at `at`, or the end. */
static size_t past_text(const char *text, size_t at, size_t length) {
    for (at++; at < length && text[at] != '"'; at++)
        if (text[at] == '\\') at++;
    return at < length ? at + 1 : length;
}

static bool begins(const char *text, size_t at, size_t length, const char *word) {
    size_t wanted = strlen(word);
    return length - at >= wanted && memcmp(text + at, word, wanted) == 0;
}

bool hf_campaign_begins(const char *text, size_t length) {
    static const char mark[] = "\xEF\xBB\xBF", key[] = "\"format\"", value[] = "\"holdfast-campaign/";
    size_t depth = 1, at = past_blanks(text, begins(text, 0, length, mark) ? 3 : 0, length);
    if (at == length || text[at] != '{') return false;
    for (at++; at < length && depth > 0;) {
        if (depth == 1 && begins(text, at, length, key)) {
            size_t colon = past_blanks(text, at + sizeof key - 1, length);
            if (begins(text, colon, length, ":") &&
                begins(text, past_blanks(text, colon + 1, length), length, value))
                return true;
        }
        if (text[at] == '"') {
            at = past_text(text, at, length);
            continue;
        }
        depth += (text[at] == '{' || text[at] == '[');
        depth -= (text[at] == '}' || text[at] == ']');
        at++;
    }
    return false;
}

bool hf_campaign_is_at(const char *path) {
    hf_text text = {0};
    if (!hf_file_names(path)) return false;
    (void)hf_file_read(path, HF_CAMPAIGN_LIMIT_BYTES, &text, NULL); /* of a longer file the start is enough */
    bool found = text.length && hf_campaign_begins(text.bytes, text.length);
    hf_text_free(&text);
    return found;
}

bool hf_campaign_is_locked_by(const char *path) {
    hf_text file = {0};
    bool found = hf_file_of_lock(path, &file) && hf_campaign_is_at(file.bytes);
    hf_text_free(&file);
    return found;
}
