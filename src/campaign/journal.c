#include "holdfast/campaign/journal.h"

#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/file_lock.h"

static const char format_name[] = "holdfast-journal/1";

/* A piece begins and ends with its line, unless that is longer than this. */
enum { LINE_MOST = 256 };

/* --- Writing ----------------------------------------------------------------------------------------- */

static bool inside_character(const char *text, size_t at, size_t length) {
    return at < length && ((unsigned char)text[at] & 0xC0) == 0x80;
}

static size_t line_start(const char *text, size_t at) {
    size_t start = at;
    while (start > 0 && text[start - 1] != '\n' && at - start < LINE_MOST) start--;
    while (inside_character(text, start, at)) start--;
    return start;
}

static size_t line_end(const char *text, size_t at, size_t length) {
    size_t end = at;
    while (end < length && text[end] != '\n' && end - at < LINE_MOST) end++;
    while (inside_character(text, end, length)) end++;
    return end;
}

static void add_piece(hf_text *out, const char *key, const char *start, const char *end) {
    hf_text piece = {0};
    hf_text_add_bytes(&piece, start, (size_t)(end - start));
    hf_text_addf(out, ", \"%s\": ", key);
    hf_json_quote(out, piece.length ? piece.bytes : "");
    if (piece.failed) out->failed = true;
    hf_text_free(&piece);
}

void hf_journal_line(const char *at, const char *command, size_t takes_back, const hf_campaign *before,
                     const hf_campaign *after, hf_text *out) {
    const char *old = before->text, *now = after->text;
    size_t old_length = before->text_length, now_length = after->text_length;
    size_t shorter = old_length < now_length ? old_length : now_length, head = 0, tail = 0;
    while (head < shorter && old[head] == now[head]) head++;
    while (tail < shorter - head && old[old_length - tail - 1] == now[now_length - tail - 1]) tail++;
    size_t start = line_start(old, head), end = line_end(old, old_length - tail, old_length);
    hf_text_addf(out, "{\"format\": \"%s\", \"at\": \"%s\", \"command\": ", format_name, at);
    hf_json_quote_repaired(out, command);
    if (takes_back) hf_text_addf(out, ", \"takes_back\": %zu", takes_back);
    hf_text_addf(out, ", \"before\": \"%s\", \"after\": \"%s\", \"start\": %zu", before->sha256,
                 after->sha256, start);
    add_piece(out, "old", old + start, old + end);
    add_piece(out, "now", now + start, now + now_length - (old_length - end));
    hf_text_add(out, "}\n");
}

/* --- Reading ----------------------------------------------------------------------------------------- */

static const char *text_of(const hf_json *line, const char *key) {
    const hf_json *node = hf_json_get(line, key);
    return node && node->kind == HF_JSON_TEXT ? node->text : NULL;
}

static size_t number_of(const hf_json *line, const char *key) {
    const hf_json *node = hf_json_get(line, key);
    return node && node->kind == HF_JSON_NUMBER && node->number > 0 ? (size_t)node->number : 0;
}

/* True: the line tells of a pull that is going on. */
static bool read_progress(const hf_json *line, hf_pull_progress *out) {
    const char *format = line->kind == HF_JSON_OBJECT ? text_of(line, "format") : NULL;
    const hf_json *day = format && strcmp(format, format_name) == 0 ? hf_json_get(line, "day") : NULL;
    if (!day || day->kind != HF_JSON_OBJECT || !text_of(day, "part")) return false;
    *out = (hf_pull_progress){text_of(day, "part"), number_of(day, "held"), text_of(day, "note"),
                              text_of(day, "photo")};
    return true;
}

/* False: no whole change. */
static bool read_entry(const hf_json *line, hf_entry *out) {
    const char *format = line->kind == HF_JSON_OBJECT ? text_of(line, "format") : NULL;
    if (!format || strcmp(format, format_name) != 0) return false;
    *out = (hf_entry){.at = text_of(line, "at"),
                      .command = text_of(line, "command"),
                      .before = text_of(line, "before"),
                      .after = text_of(line, "after"),
                      .start = number_of(line, "start"),
                      .old = text_of(line, "old"),
                      .now = text_of(line, "now"),
                      .takes_back = number_of(line, "takes_back")};
    return out->at && out->command && out->before && out->after && out->old && out->now;
}

static size_t count_lines(const hf_text *text) {
    size_t count = 0;
    for (size_t i = 0; i < text->length; i++) count += text->bytes[i] == '\n';
    return count;
}

static hf_status read_lines(hf_arena *arena, const hf_text *text, hf_entry *entries, hf_journal *journal,
                            hf_error *error) {
    const hf_json *line;
    for (size_t at = 0, end; at < text->length; at = end + 1) {
        const char *stop = memchr(text->bytes + at, '\n', text->length - at);
        end = stop ? (size_t)(stop - text->bytes) : text->length;
        if (end == at) continue;
        hf_status status = hf_json_parse(arena, journal->path, text->bytes + at, end - at, &line, NULL);
        if (status == HF_MEMORY) return hf_error_set(error, status, "out of memory");
        if (status == HF_OK && stop && read_entry(line, &entries[journal->count])) {
            entries[journal->count].number = journal->count + 1;
            journal->count++;
            journal->progress = (hf_pull_progress){0};
        } else if (!(status == HF_OK && stop && read_progress(line, &journal->progress))) {
            journal->broken++;
        }
    }
    return HF_OK;
}

/* What took effect is seen from what came next: the file then was as this change left it, as it was before it, or something else. */
static void judge(hf_entry *entries, size_t count, const char *sha256) {
    for (size_t i = 0; i < count; i++) {
        hf_entry *entry = &entries[i];
        const char *next = i + 1 < count ? entries[i + 1].before : sha256;
        bool left = strcmp(next, entry->after) == 0;
        if (!left && strcmp(next, entry->before) == 0)
            entry->standing = HF_ENTRY_NEVER;
        else
            entry->edited = !left;
    }
}

static const hf_entry *last_standing(hf_entry *entries, size_t count) {
    const hf_entry *last = NULL;
    for (size_t i = 0; i < count; i++) {
        size_t back = entries[i].takes_back;
        if (entries[i].standing == HF_ENTRY_STANDS && back && back <= i)
            entries[back - 1].standing = HF_ENTRY_TAKEN_BACK;
    }
    for (size_t i = 0; i < count; i++)
        if (entries[i].standing == HF_ENTRY_STANDS && !entries[i].takes_back) last = &entries[i];
    return last;
}

hf_status hf_journal_read(hf_arena *arena, const char *path, const char sha256[65], const hf_journal **out,
                          hf_error *error) {
    hf_text name = {0}, text = {0};
    hf_journal *journal = HF_ARENA_NEW(arena, hf_journal);
    hf_status status = hf_file_log_name(path, &name, error);
    if (status == HF_OK && journal) journal->path = hf_arena_text(arena, name.bytes, name.length);
    if (status == HF_OK && !(journal && journal->path))
        status = hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK) status = hf_file_read_if_any(journal->path, SIZE_MAX / 4, &text, error);
    hf_entry *entries = status == HF_OK ? HF_ARENA_NEW_ARRAY(arena, hf_entry, count_lines(&text) + 1) : NULL;
    if (status == HF_OK && !entries) status = hf_error_set(error, HF_MEMORY, "out of memory");
    if (status == HF_OK) status = read_lines(arena, &text, entries, journal, error);
    hf_text_free(&name);
    hf_text_free(&text);
    if (status != HF_OK) return status;
    journal->entries = entries;
    judge(entries, journal->count, sha256);
    journal->last = last_standing(entries, journal->count);
    *out = journal;
    return HF_OK;
}

hf_status hf_journal_add_progress(const char *path, const char *at, const hf_pull_progress *progress,
                                  hf_error *error) {
    hf_file_lock *lock;
    hf_text line = {0};
    hf_text_addf(&line, "{\"format\": \"%s\", \"at\": \"%s\", \"day\": { \"part\": ", format_name, at);
    hf_json_quote(&line, progress->part);
    hf_text_addf(&line, ", \"held\": %zu", progress->held);
    if (progress->note) hf_text_add(&line, ", \"note\": ");
    if (progress->note) hf_json_quote(&line, progress->note);
    if (progress->photo) hf_text_add(&line, ", \"photo\": ");
    if (progress->photo) hf_json_quote(&line, progress->photo);
    hf_text_add(&line, " } }\n");
    hf_status status =
        line.failed ? hf_error_set(error, HF_MEMORY, "out of memory") : hf_file_lock_take(path, &lock, error);
    if (status == HF_OK) {
        status = hf_file_log_add(lock, &line, error);
        hf_file_lock_release(lock);
    }
    hf_text_free(&line);
    return status;
}

/* --- Taking back ------------------------------------------------------------------------------------- */

/* Bytes at which `piece` stands in the text; *times how often, counted to 2. */
static size_t find_piece(const hf_campaign *now, const char *piece, size_t *times) {
    size_t length = strlen(piece), found = 0;
    *times = 0;
    for (size_t at = 0; length && at + length <= now->text_length && *times < 2; at++) {
        const char *next = memchr(now->text + at, piece[0], now->text_length - length - at + 1);
        if (!next) break;
        at = (size_t)(next - now->text);
        if (memcmp(next, piece, length) != 0) continue;
        if (!(*times)++) found = at;
    }
    return found;
}

void hf_journal_put_back(const char *text, size_t length, size_t start, const hf_entry *entry, hf_text *out) {
    size_t end = start + strlen(entry->now);
    hf_text_add_bytes(out, text, start);
    hf_text_add(out, entry->old);
    hf_text_add_bytes(out, text + end, length - end);
}

hf_status hf_journal_take_back(const hf_campaign *now, const hf_entry *entry, hf_text *out, hf_error *error) {
    size_t length = strlen(entry->now), start = entry->start, times = 1;
    bool whole = strcmp(now->sha256, entry->after) == 0 && start + length <= now->text_length &&
                 memcmp(now->text + start, entry->now, length) == 0;
    if (!whole) start = find_piece(now, entry->now, &times);
    if (times != 1)
        return hf_error_set(error, HF_BAD_DATA,
                            "change %zu (%.200s) cannot be taken back: something else has changed the file "
                            "since, and what that change wrote "
                            "%s; nothing was changed",
                            entry->number, entry->command,
                            times ? "stands there more than once" : "does not stand there any more");
    hf_journal_put_back(now->text, now->text_length, start, entry, out);
    return out->failed ? hf_error_set(error, HF_MEMORY, "out of memory") : HF_OK;
}
