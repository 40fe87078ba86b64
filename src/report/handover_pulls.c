/* Every pull as it was recorded, and as force on the part. A column that no pull of the design fills, or that says the same of them all, is
 * left out and told below the table. */
#include <math.h>
#include <string.h>
#include "report/handover_report.h"

static const char *or_lost(const char *text) {
    return text ? text : "-";
}

/* The load as it was written, a bare number with the file's unit. */
static const char *written(hf_document *d, const hf_campaign *campaign, const hf_specimen *s,
                           const char *key) {
    const hf_json *node = s->node ? hf_json_get(s->node, key) : NULL;
    if (!node) return NULL;
    if (node->kind == HF_JSON_TEXT) return node->text;
    return or_lost(
        hf_arena_format(d->arena, "%s %s", hf_shortest_text(d, node->number), campaign->unit->name));
}

static const char *held_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    return written(d, campaign, s, "held");
}

/* What cannot be stated because it did not happen; NULL: it could have been. */
static const char *did_not_happen(const hf_specimen *s) {
    if (s->outcome == HF_OUTCOME_PLANNED) return "none yet";
    return s->outcome == HF_OUTCOME_HELD || s->outcome == HF_OUTCOME_RIG ? "none" : NULL;
}

static const char *failed_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    const char *failed = written(d, campaign, s, "failed");
    return failed ? failed : did_not_happen(s);
}

static const char *peak_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    return written(d, campaign, s, "peak");
}

static const char *tare_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    return written(d, campaign, s, "tare");
}

/* "held 600 N; seen 640 N", as written. */
static const char *set_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    const char *held = written(d, campaign, s, "set_held"), *seen = written(d, campaign, s, "set_seen");
    if (!held && !seen) return NULL;
    return or_lost(hf_arena_format(d->arena, "%s%s%s%s%s", held ? "not at " : "", held ? held : "",
                                   held && seen ? ", " : "", seen ? "seen at " : "", seen ? seen : ""));
}

static const char *interval(hf_document *d, const hf_pull *pull) {
    if (pull->kind == HF_PULL_NONE) return "none";
    if (pull->kind == HF_PULL_ABOVE)
        return or_lost(hf_arena_format(d->arena, "> %s", hf_load_text(d, pull->lower, 4)));
    if (pull->lower == pull->upper) return hf_load_text(d, pull->lower, 4);
    return or_lost(
        hf_arena_format(d->arena, "%s–%s", hf_bare_load(d, pull->lower, 4), hf_load_text(d, pull->upper, 4)));
}

static const char *force_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    return interval(d, s->outcome == HF_OUTCOME_VOID ? &s->voided : &s->pull);
}

static const char *outcome_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    static const char *const words[] = {"failed", "held, run-out", "rig let go", "void", "planned"};
    static const char *const phases[] = {"", " while adding", " in the dwell"};
    return or_lost(hf_arena_format(d->arena, "%s%s%s%s", words[s->outcome], phases[s->phase],
                                   s->dropped ? ", weight dropped on" : "",
                                   s->reused ? ", pulled before" : ""));
}

static const char *mode_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    (void)d;
    return s->mode ? s->mode : did_not_happen(s);
}

static const char *batch_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    (void)d;
    return s->batch;
}

static const char *date_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    (void)d;
    return s->date;
}

static const char *order_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    return s->order.given ? hf_shortest_text(d, s->order.value) : NULL;
}

static const char *duration_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    return s->duration_s.given ? hf_shortest_text(d, s->duration_s.value) : NULL;
}

static const char *ends_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    static const char *const broke[] = {"", ", first broke", ", second broke", ", both broke"};
    if (!s->ends[0]) return NULL;
    return or_lost(
        hf_arena_format(d->arena, "%s, %s%s", s->ends[0], hf_or_not_stated(s->ends[1]), broke[s->broke]));
}

static const char *note_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    (void)campaign;
    hf_text text = {0};
    if (s->note) hf_text_add(&text, s->note);
    for (size_t i = 0; i < s->info.count; i++)
        hf_text_addf(&text, "%s%s: %s", text.length ? "; " : "", s->info.pairs[i].key,
                     s->info.pairs[i].value);
    const char *note = text.length ? hf_arena_text(d->arena, text.bytes, text.length) : NULL;
    hf_text_free(&text);
    return note;
}

/* The columns, in the order they are read: when and of what, what was recorded, what it means. */
static const struct {
    const char *header, *name; /* in the table; below it, where the column is left out */
    const char *(*cell)(hf_document *d, const hf_campaign *campaign,
                        const hf_specimen *specimen); /* NULL: not stated */
    bool always;
} columns[] = {
    {"date", "date", date_cell, false},
    {">order", "order", order_cell, false},
    {"batch", "batch", batch_cell, false},
    {">held", "load held", held_cell, false},
    {">failed", "load at failure", failed_cell, false},
    {">peak", "peak reading", peak_cell, false},
    {">force on part", "", force_cell, true},
    {"outcome", "outcome", outcome_cell, false},
    {"mode", "way of failing", mode_cell, false},
    {"first movement", "first movement (set)", set_cell, false},
    {">time, s", "duration", duration_cell, false},
    {">own tare", "tare of its own", tare_cell, false},
    {"ends", "fittings at its ends", ends_cell, false},
    {"note", "note", note_cell, false},
};

enum { COLUMNS = sizeof columns / sizeof *columns, NOTE_COLUMNS = 400 };

/* The last column holds sentences, the others names and numbers. */
static size_t room_of(size_t column) {
    return column + 1 == COLUMNS ? NOTE_COLUMNS : HF_NAME_COLUMNS;
}

/* One dash for what a pull does not have, such as loads held and failed beside a peak; the note above the tables says so. */
static const char nothing[] = "–";

static const char *shown(hf_document *d, const char *cell, size_t column) {
    return hf_cut_text(d, cell && cell[0] ? cell : nothing, room_of(column));
}

static bool too_long(const char *text, size_t room) {
    return text && hf_text_columns(text) > room;
}

static bool any_cell_cut(hf_document *d, const hf_campaign *campaign, const hf_specimen *specimen) {
    if (too_long(specimen->id, HF_NAME_COLUMNS)) return true;
    for (size_t i = 0; i < COLUMNS; i++)
        if (too_long(columns[i].cell(d, campaign, specimen), room_of(i))) return true;
    return false;
}

static bool any_match_cut(const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->head_to_head_count; i++) {
        const hf_head_to_head *pull = &campaign->head_to_head[i];
        if (too_long(pull->first, HF_NAME_COLUMNS) || too_long(pull->second, HF_NAME_COLUMNS) ||
            too_long(pull->mode, HF_NAME_COLUMNS) || too_long(pull->note, NOTE_COLUMNS))
            return true;
    }
    return false;
}

/* Whether something in this chapter is cut. */
static bool any_cut(hf_document *d, const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->design_count; i++) {
        const hf_design *design = &campaign->designs[i];
        if (too_long(design->name && design->name[0] ? design->name : design->id, HF_NAME_COLUMNS))
            return true;
        for (size_t j = 0; j < design->specimen_count; j++)
            if (any_cell_cut(d, campaign, &design->specimens[j])) return true;
    }
    return any_match_cut(campaign);
}

/* How a column of a design is shown. */
typedef enum showing { SHOWN, NOT_STATED, ALL_ALIKE } showing;

/* What a column says of all pulls alike; NULL: nothing of any. *alike: whether it says the same of all. */
static const char *common_cell(hf_document *d, const hf_campaign *campaign, const hf_design *design,
                               size_t column, bool *alike) {
    const char *first = columns[column].cell(d, campaign, &design->specimens[0]);
    *alike = true;
    for (size_t i = 1; i < design->specimen_count && *alike; i++) {
        const char *cell = columns[column].cell(d, campaign, &design->specimens[i]);
        *alike = first && cell ? strcmp(first, cell) == 0 : first == cell;
    }
    return first;
}

/* Whether no pull states anything there: what did not happen is no statement. */
static bool is_empty(hf_document *d, const hf_campaign *campaign, const hf_design *design, size_t column) {
    for (size_t i = 0; i < design->specimen_count; i++) {
        const char *cell = columns[column].cell(d, campaign, &design->specimens[i]);
        if (cell && cell != did_not_happen(&design->specimens[i])) return false;
    }
    return true;
}

static showing showing_of(hf_document *d, const hf_campaign *campaign, const hf_design *design,
                          size_t column) {
    bool alike;
    const char *common = common_cell(d, campaign, design, column, &alike);
    if (!alike) return is_empty(d, campaign, design, column) ? NOT_STATED : SHOWN;
    if (!common) return NOT_STATED;
    return design->specimen_count > 1 && !columns[column].always ? ALL_ALIKE : SHOWN;
}

static void add_folded(hf_document *d, const hf_campaign *campaign, const hf_design *design,
                       const showing *how) {
    hf_text missing = {0}, alike = {0};
    bool unused;
    for (size_t i = 0; i < COLUMNS; i++) {
        if (how[i] == NOT_STATED) hf_text_addf(&missing, "%s%s", missing.length ? ", " : "", columns[i].name);
        if (how[i] == ALL_ALIKE)
            hf_text_addf(&alike, "%s%s %s", alike.length ? "; " : "", columns[i].name,
                         shown(d, common_cell(d, campaign, design, i, &unused), i));
    }
    if (alike.length)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The same for every %s of %s: %s.", "pull",
                         hf_design_name(d, design), alike.bytes);
    if (missing.length)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Not stated for any %s of %s: %s.", "pull",
                         hf_design_name(d, design), missing.bytes);
    hf_text_free(&missing);
    hf_text_free(&alike);
}

static void add_rows(hf_document *d, const hf_campaign *campaign, const hf_design *design, const showing *how,
                     hf_block *table) {
    for (size_t i = 0; i < design->specimen_count; i++) {
        const char *cells[COLUMNS + 2] = {hf_cut_text(d, design->specimens[i].id, HF_NAME_COLUMNS)};
        size_t at = 1;
        for (size_t j = 0; j < COLUMNS; j++)
            if (how[j] == SHOWN)
                cells[at++] = shown(d, columns[j].cell(d, campaign, &design->specimens[i]), j);
        hf_document_row(d, table, cells);
    }
}

static void add_design(hf_document *d, const hf_campaign *campaign, const hf_design *design) {
    const char *header[COLUMNS + 2] = {"part"};
    showing how[COLUMNS];
    size_t count = 1;
    hf_document_add(d, HF_BLOCK_HEADING, hf_design_name(d, design));
    if (!design->specimen_count) {
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "No part is written down for this design.");
        return;
    }
    for (size_t i = 0; i < COLUMNS; i++) {
        how[i] = showing_of(d, campaign, design, i);
        if (how[i] == SHOWN) header[count++] = columns[i].header;
    }
    header[count] = NULL;
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(
        d, table,
        or_lost(hf_arena_format(d->arena, "Every pull of %s, loads as recorded and as force on the part",
                                hf_design_name(d, design))));
    add_rows(d, campaign, design, how, table);
    add_folded(d, campaign, design, how);
}

static bool has_dash(hf_document *d, const hf_campaign *campaign, const hf_design *design, size_t column) {
    if (showing_of(d, campaign, design, column) != SHOWN) return false;
    for (size_t i = 0; i < design->specimen_count; i++)
        if (!columns[column].cell(d, campaign, &design->specimens[i])) return true;
    return false;
}

/* Whether a cell of some table holds nothing but a dash. */
static bool any_dash(hf_document *d, const hf_campaign *campaign) {
    for (size_t i = 0; i < campaign->head_to_head_count; i++)
        if (!campaign->head_to_head[i].mode || !campaign->head_to_head[i].note) return true;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; campaign->designs[i].specimen_count && j < COLUMNS; j++)
            if (has_dash(d, campaign, &campaign->designs[i], j)) return true;
    return false;
}

static void add_matches(hf_document *d, const hf_campaign *campaign) {
    static const char *const header[] = {"first", "second", "broke", "mode", "note", NULL};
    static const char *const broke[] = {"not stated", "first", "second", "both"};
    if (!campaign->head_to_head_count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Pulled against each other");
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(d, table, "Every pull of one design against another");
    for (size_t i = 0; i < campaign->head_to_head_count; i++) {
        const hf_head_to_head *pull = &campaign->head_to_head[i];
        const char *cells[] = {hf_cut_text(d, pull->first, HF_NAME_COLUMNS),
                               hf_cut_text(d, pull->second, HF_NAME_COLUMNS),
                               broke[pull->broke],
                               hf_cut_text(d, pull->mode ? pull->mode : nothing, HF_NAME_COLUMNS),
                               hf_cut_text(d, pull->note ? pull->note : nothing, NOTE_COLUMNS),
                               NULL};
        hf_document_row(d, table, cells);
    }
}

void hf_handover_pulls(hf_document *d, const hf_handover *handover) {
    const hf_campaign *campaign = handover->campaign;
    hf_document_add(d, HF_BLOCK_HEADING, "Every pull as recorded");
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Loads held and failed, peaks and own tares stand as they were written%s. Force on the "
                     "part: from the load last held to the load at "
                     "failure, in %s; > held and did not fail. "
                     "A mass counts with the weight it has at %s m/s².%s",
                     any_cut(d, campaign) ? "; what ends in … stands in full in the file" : "",
                     d->style->unit->name, hf_shortest_text(d, d->style->gravity),
                     any_dash(d, campaign) ? " – marks what is not stated, or does not belong to a pull of "
                                             "that kind: a peak has no loads held and failed."
                                           : "");
    d->chapter = true;
    for (size_t i = 0; i < campaign->design_count; i++) add_design(d, campaign, &campaign->designs[i]);
    add_matches(d, campaign);
    d->chapter = false;
}
