/* Every pull as it was recorded, and as force on the part. A column that no pull of the design fills is left out and named below. */
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
    {"outcome", "", outcome_cell, true},
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

static const char *shown(hf_document *d, const char *cell, size_t column) {
    return hf_cut_text(d, hf_or_not_stated(cell), room_of(column));
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

static bool any_stated(hf_document *d, const hf_campaign *campaign, const hf_design *design, size_t column) {
    for (size_t i = 0; i < design->specimen_count; i++)
        if (columns[column].cell(d, campaign, &design->specimens[i])) return true;
    return false;
}

static void add_missing(hf_document *d, const hf_design *design, const bool *kept) {
    hf_text names = {0};
    for (size_t i = 0; i < COLUMNS; i++)
        if (!kept[i]) hf_text_addf(&names, "%s%s", names.length ? ", " : "", columns[i].name);
    if (names.length)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Not stated for any %s of %s: %s.", "pull",
                         hf_design_name(d, design), names.bytes);
    hf_text_free(&names);
}

static void add_design(hf_document *d, const hf_campaign *campaign, const hf_design *design) {
    const char *header[COLUMNS + 2] = {"part"};
    bool kept[COLUMNS];
    size_t count = 1;
    for (size_t i = 0; i < COLUMNS; i++) {
        kept[i] = columns[i].always || any_stated(d, campaign, design, i);
        if (kept[i]) header[count++] = columns[i].header;
    }
    header[count] = NULL;
    hf_document_add(d, HF_BLOCK_HEADING, hf_design_name(d, design));
    if (!design->specimen_count) {
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "No part is written down for this design.");
        return;
    }
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(
        d, table,
        or_lost(hf_arena_format(d->arena, "Every pull of %s, loads as recorded and as force on the part",
                                hf_design_name(d, design))));
    for (size_t i = 0; i < design->specimen_count; i++) {
        const char *cells[COLUMNS + 2] = {hf_cut_text(d, design->specimens[i].id, HF_NAME_COLUMNS)};
        size_t at = 1;
        for (size_t j = 0; j < COLUMNS; j++)
            if (kept[j]) cells[at++] = shown(d, columns[j].cell(d, campaign, &design->specimens[i]), j);
        hf_document_row(d, table, cells);
    }
    add_missing(d, design, kept);
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
                               hf_cut_text(d, hf_or_not_stated(pull->mode), HF_NAME_COLUMNS),
                               hf_cut_text(d, hf_or_not_stated(pull->note), NOTE_COLUMNS),
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
                     "A mass counts with the weight it has at %s m/s².",
                     any_cut(d, campaign) ? "; what ends in … stands in full in the file" : "",
                     d->style->unit->name, hf_shortest_text(d, d->style->gravity));
    d->chapter = true;
    for (size_t i = 0; i < campaign->design_count; i++) add_design(d, campaign, &campaign->designs[i]);
    add_matches(d, campaign);
    d->chapter = false;
}
