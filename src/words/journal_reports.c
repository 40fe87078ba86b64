/* What was changed in a campaign file, and what was taken back. */
#include <string.h>
#include "words/assess_words.h"
#include "words/json_fields.h"

/* "2026-05-01 10:12" */
static const char *minute(hf_document *d, const hf_entry *entry) {
    char text[17] = "";
    size_t length = strlen(entry->at) < 16 ? strlen(entry->at) : 16;
    memcpy(text, entry->at, length);
    if (length > 10) text[10] = ' ';
    const char *kept = hf_arena_text(d->arena, text, length);
    return kept ? kept : "";
}

/* Every command here is one of this program. */
static const char *words_of(const hf_entry *entry) {
    static const char program[] = "holdfast ";
    return entry->command +
           (strncmp(entry->command, program, sizeof program - 1) == 0 ? sizeof program - 1 : 0);
}

static const char *standing(hf_document *d, const hf_entry *entry) {
    const char *text = "";
    if (entry->standing == HF_ENTRY_NEVER) return "never took effect";
    if (entry->standing == HF_ENTRY_TAKEN_BACK) return "taken back";
    if (entry->takes_back) text = hf_arena_format(d->arena, "takes back %zu", entry->takes_back);
    return text ? text : "";
}

static void add_entries(hf_document *d, const hf_journal *journal) {
    static const char *const header[] = {">no.", "when", "standing", "command", NULL};
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < journal->count; i++) {
        const hf_entry *entry = &journal->entries[i];
        const char *number = hf_arena_format(d->arena, "%zu", entry->number);
        const char *const cells[] = {number ? number : "", minute(d, entry), standing(d, entry),
                                     words_of(entry), NULL};
        hf_document_row(d, table, cells);
        if (!entry->edited) continue;
        static const char *const foreign[] = {"", "", "", "(something else changed the file)", NULL};
        hf_document_row(d, table, foreign);
    }
}

static void add_next(hf_document *d, const hf_entry *next) {
    if (next)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "undo takes back change %zu: %s.", next->number,
                         words_of(next));
    else
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "Nothing is left to take back.");
}

static void history_document(const void *result, hf_document *d) {
    const hf_history_result *history = result;
    const hf_journal *journal = history->journal;
    hf_document_addf(d, HF_BLOCK_TITLE, "Changes of %s", history->file);
    if (!journal->count) {
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "No change is written down. From the first one that a command makes they are kept "
                         "in %s; a file that was copied "
                         "or renamed leaves its journal behind.",
                         journal->path);
    } else {
        hf_document_addf(d, HF_BLOCK_ANSWER, "%zu %s, oldest first.", journal->count,
                         journal->count == 1 ? "change" : "changes");
        add_entries(d, journal);
        add_next(d, journal->last);
    }
    if (journal->broken)
        hf_document_addf(
            d, HF_BLOCK_ITEM,
            "%zu %s of the journal cannot be read: writing was cut off there, and what was being "
            "written never took effect.",
            journal->broken, journal->broken == 1 ? "line" : "lines");
}

static void undo_document(const void *result, hf_document *d) {
    const hf_undo_result *undo = result;
    const hf_entry *entry = undo->taken_back;
    hf_document_addf(d, HF_BLOCK_ANSWER, "Taken back: change %zu of %s, %s.", entry->number, minute(d, entry),
                     words_of(entry));
    if (undo->passed)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Passed over: %zu later %s written down but never took effect.", undo->passed,
                         undo->passed == 1 ? "change that was" : "changes that were");
    if (undo->edited)
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "Something else has changed the file since; that stays, only this change is taken back.");
    add_next(d, undo->next);
}

/* --- JSON -------------------------------------------------------------------------------------------- */

static const char *const standings[] = {"stands", "taken_back", "never", NULL};

static bool takes_back(const hf_place *p) {
    return ((const hf_entry *)p->item)->takes_back > 0;
}

#define OF hf_entry
static const hf_field entry_fields[] = {
    HF_MEMBER(COUNT, "number", number),
    HF_MEMBER(TEXT, "at", at),
    HF_MEMBER(TEXT, "command", command),
    HF_WORD("standing", standing, standings),
    {.key = "takes_back", .kind = HF_FIELD_COUNT, HF_AT(takes_back), .given = takes_back},
    HF_MEMBER(BOOL, "edited_after", edited),
    HF_MEMBER(TEXT, "before", before),
    HF_MEMBER(TEXT, "after", after),
    HF_MEMBER(TEXT, "old", old),
    HF_MEMBER(TEXT, "now", now),
    HF_FIELDS_END};
#undef OF
static const hf_record entry_record = {.name = "change", .fields = entry_fields};

static const hf_journal *journal_of(const hf_place *p) {
    return ((const hf_history_result *)p->item)->journal;
}

static const void *next_entry(const hf_place *p, size_t at) {
    return at < journal_of(p)->count ? &journal_of(p)->entries[at] : NULL;
}

static hf_found journal_path(const hf_place *p) {
    return hf_found_text(journal_of(p)->path, NULL);
}

static hf_found broken_lines(const hf_place *p) {
    return hf_found_count(journal_of(p)->broken);
}

static bool history_goes_on(const hf_place *p) {
    return journal_of(p)->last != NULL;
}

static hf_found history_next(const hf_place *p) {
    return hf_found_count(journal_of(p)->last->number);
}

#define OF hf_history_result
static const hf_field history_fields[] = {
    HF_MEMBER(TEXT, "file", file),
    HF_MEMBER(TEXT, "sha256", sha256),
    HF_FOUND(TEXT, "journal", journal_path),
    HF_LIST("changes", next_entry, &entry_record),
    HF_FOUND(COUNT, "broken_lines", broken_lines),
    {.key = "undo_takes_back", .kind = HF_FIELD_COUNT, .find = history_next, .given = history_goes_on},
    HF_FIELDS_END};
#undef OF
static const hf_record history_record = {.name = "history", .fields = history_fields};

static hf_found undo_file(const hf_place *p) {
    return hf_found_item(((const hf_undo_result *)p->item)->campaign);
}

static hf_found undo_entry(const hf_place *p) {
    return hf_found_item(((const hf_undo_result *)p->item)->taken_back);
}

static bool undo_goes_on(const hf_place *p) {
    return ((const hf_undo_result *)p->item)->next != NULL;
}

static hf_found undo_next(const hf_place *p) {
    return hf_found_count(((const hf_undo_result *)p->item)->next->number);
}

#define OF hf_undo_result
static const hf_field undo_fields[] = {
    HF_FILE(undo_file),
    {.key = "taken_back", .kind = HF_FIELD_OBJECT, .find = undo_entry, .record = &entry_record},
    HF_MEMBER(COUNT, "passed_over", passed),
    HF_MEMBER(BOOL, "edited_since", edited),
    {.key = "undo_takes_back", .kind = HF_FIELD_COUNT, .find = undo_next, .given = undo_goes_on},
    HF_FIELDS_END};
#undef OF
static const hf_record undo_record = {.name = "undo", .fields = undo_fields};

const hf_report_kind hf_report_history = {"history", history_document, &history_record};
const hf_report_kind hf_report_undo = {"undo", undo_document, &undo_record};
