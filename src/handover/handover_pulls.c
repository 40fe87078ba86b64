/* Every pull as it was recorded, and as force on the part. A column that no pull of the design fills, or that says the same of them all, is
 * left out and told below the table; so is the force where it is the load recorded. */
#include <string.h>
#include "handover/handover_report.h"
#include "handover/pulls_grid.h"

static const char *or_lost(const char *text) {
    return text ? text : "-";
}

static const struct {
    const char *header, *name; /* in the table; below it, where the column is left out */
} columns[HF_PULLS_COLUMNS] = {
    [HF_PULLS_DATE] = {"date", "date"},
    [HF_PULLS_ORDER] = {">order", "order"},
    [HF_PULLS_BATCH] = {"batch", "batch"},
    [HF_PULLS_HELD] = {">held", "load held"},
    [HF_PULLS_FAILED] = {">failed", "load at failure"},
    [HF_PULLS_PEAK] = {">peak", "peak reading"},
    [HF_PULLS_FORCE] = {">force on part", ""},
    [HF_PULLS_OUTCOME] = {"outcome", "outcome"},
    [HF_PULLS_MODE] = {"mode", "way of failing"},
    [HF_PULLS_SET] = {"first movement", "first movement (set)"},
    [HF_PULLS_TIME] = {">time, s", "duration"},
    [HF_PULLS_TARE] = {">own tare", "tare of its own"},
    [HF_PULLS_ENDS] = {"ends", "fittings at its ends"},
    [HF_PULLS_NOTE] = {"note", "note"},
};

/* One dash for what a pull does not have, such as loads held and failed beside a peak; the note above the tables says so. */
static const char nothing[] = "–";

static const char *shown(hf_document *d, const char *cell, size_t column) {
    return hf_cut_text(d, cell && cell[0] ? cell : nothing, hf_pulls_room(column));
}

/* --- One design -------------------------------------------------------------------------------------- */

static void add_folded(hf_document *d, const hf_pulls_grid *grid) {
    hf_text missing = {0}, alike = {0};
    for (size_t i = 0; i < HF_PULLS_COLUMNS; i++) {
        if (grid->how[i] == HF_NOT_STATED)
            hf_text_addf(&missing, "%s%s", missing.length ? ", " : "", columns[i].name);
        if (grid->how[i] == HF_ALL_ALIKE)
            hf_text_addf(&alike, "%s%s %s%s%s", alike.length ? "; " : "", columns[i].name,
                         shown(d, grid->cells[0][i], i), grid->unit[i] ? " " : "",
                         grid->unit[i] ? grid->unit[i]->name : "");
    }
    if (alike.length)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The same for every pull of %s: %s.",
                         hf_design_name(d, grid->design), alike.bytes);
    if (missing.length)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Not stated for any pull of %s: %s.",
                         hf_design_name(d, grid->design), missing.bytes);
    hf_text_free(&missing);
    hf_text_free(&alike);
}

static const char *head_of(hf_document *d, const hf_pulls_grid *grid, size_t column) {
    const hf_unit *unit = grid->unit[column];
    if (!unit) return columns[column].header;
    return or_lost(hf_arena_format(d->arena, "%s, %s", columns[column].header, unit->name));
}

static void add_rows(hf_document *d, const hf_pulls_grid *grid, hf_block *table) {
    for (size_t i = 0; i < grid->design->specimen_count; i++) {
        const char *cells[HF_PULLS_COLUMNS + 2] = {
            hf_cut_text(d, grid->design->specimens[i].id, HF_NAME_COLUMNS)};
        size_t at = 1;
        for (size_t j = 0; j < HF_PULLS_COLUMNS; j++)
            if (grid->how[j] == HF_SHOWN) cells[at++] = shown(d, grid->cells[i][j], j);
        hf_document_row(d, table, cells);
    }
}

static void add_design(hf_document *d, const hf_pulls_grid *grid) {
    const char *header[HF_PULLS_COLUMNS + 2] = {"part"}, *name = hf_design_name(d, grid->design);
    size_t count = 1;
    hf_document_add(d, HF_BLOCK_HEADING, name);
    if (!grid->cells) {
        hf_document_add(d, HF_BLOCK_PARAGRAPH, "No part is written down for this design.");
        return;
    }
    for (size_t i = 0; i < HF_PULLS_COLUMNS; i++)
        if (grid->how[i] == HF_SHOWN) header[count++] = head_of(d, grid, i);
    hf_block *table = hf_document_table(d, header);
    bool force = grid->how[HF_PULLS_FORCE] == HF_SHOWN;
    hf_document_caption(d, table,
                        or_lost(hf_arena_format(d->arena, "Every pull of %s, loads as recorded%s", name,
                                                force ? " and as force on the part" : "")));
    add_rows(d, grid, table);
    add_folded(d, grid);
}

/* --- Pulled against each other ----------------------------------------------------------------------- */

static bool too_long(const char *text, size_t room) {
    return text && hf_text_columns(text) > room;
}

/* The name of the design with this id, else the id. */
static const char *name_of(hf_document *d, const hf_campaign *campaign, const char *id) {
    for (size_t i = 0; i < campaign->design_count; i++)
        if (strcmp(campaign->designs[i].id, id) == 0) return hf_design_name(d, &campaign->designs[i]);
    return hf_cut_text(d, id, HF_NAME_COLUMNS);
}

static void look_at_matches(const hf_campaign *campaign, bool *cut, bool *dash) {
    for (size_t i = 0; i < campaign->head_to_head_count; i++) {
        const hf_head_to_head *pull = &campaign->head_to_head[i];
        *cut = *cut || too_long(pull->mode, HF_NAME_COLUMNS) ||
               too_long(pull->note, hf_pulls_room(HF_PULLS_NOTE));
        *dash = *dash || !pull->mode || !pull->note;
    }
}

static void add_matches(hf_document *d, const hf_campaign *campaign) {
    static const char *const header[] = {"one end", "other end", "broke", "mode", "note", NULL};
    if (!campaign->head_to_head_count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Pulled against each other");
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(d, table, "Every pull of one design against another");
    for (size_t i = 0; i < campaign->head_to_head_count; i++) {
        const hf_head_to_head *pull = &campaign->head_to_head[i];
        const char *first = name_of(d, campaign, pull->first), *second = name_of(d, campaign, pull->second);
        const char *const broke[] = {"not stated", first, second, "both"};
        const char *cells[] = {first,
                               second,
                               broke[pull->broke],
                               hf_cut_text(d, pull->mode ? pull->mode : nothing, HF_NAME_COLUMNS),
                               shown(d, pull->note, HF_PULLS_NOTE),
                               NULL};
        hf_document_row(d, table, cells);
    }
}

/* --- The chapter ------------------------------------------------------------------------------------- */

/* What the tables of this file hold, and nothing that they do not. */
typedef struct contents {
    bool loads, converted, as_recorded, mass, intervals, above, cut, dash;
} contents;

static void look_at(hf_document *d, const hf_pulls_grid *grid, contents *all) {
    const hf_design *design = grid->design;
    const char *name = design->name && design->name[0] ? design->name : design->id;
    all->cut = all->cut || grid->cut || too_long(name, HF_NAME_COLUMNS);
    all->dash = all->dash || grid->dash;
    if (!grid->cells) return;
    bool converted = grid->how[HF_PULLS_FORCE] == HF_SHOWN;
    all->loads = true;
    all->converted = all->converted || converted;
    all->as_recorded = all->as_recorded || (!converted && grid->forces);
    all->mass = all->mass || (converted && (grid->mass || d->style->unit->is_mass));
    all->intervals = all->intervals || (converted && grid->intervals);
    all->above = all->above || (converted && grid->above);
}

static void add_introduction(hf_document *d, const contents *all) {
    hf_text text = {0};
    hf_text_addf(&text, "Loads stand as they were written%s.",
                 all->cut ? "; what ends in … stands in full in the file" : "");
    if (all->as_recorded)
        hf_text_addf(&text, " %s the force on the part is the load recorded: nothing is added or converted.",
                     all->converted ? "Where no column says otherwise," : "Here");
    if (all->converted)
        hf_text_addf(&text, " Force on the part: %s%s%s.",
                     all->intervals ? "from the load last held to the load at failure"
                                    : "what the load recorded comes to there",
                     all->above ? "; > held and did not fail" : "",
                     all->mass ? "" : ", with tare, lever and angle of the rig");
    if (all->mass)
        hf_text_addf(&text, " A mass counts with the weight it has at %s m/s².",
                     hf_show_text(d, HF_AS_GIVEN, d->style->gravity));
    if (all->dash)
        hf_text_add(&text, " What is not stated, or does not belong to a pull of that kind, is left out or "
                           "marked –.");
    hf_document_add(d, HF_BLOCK_PARAGRAPH, text.bytes ? text.bytes : "");
    hf_text_free(&text);
}

void hf_handover_pulls(hf_document *d, const hf_study *study) {
    const hf_campaign *campaign = study->campaign;
    contents all = {0};
    hf_pulls_grid *grids = HF_ARENA_NEW_ARRAY(d->arena, hf_pulls_grid, campaign->design_count + 1);
    for (size_t i = 0; grids && i < campaign->design_count; i++) {
        if (!hf_pulls_grid_fill(d, campaign, &campaign->designs[i], &grids[i])) return;
        look_at(d, &grids[i], &all);
    }
    look_at_matches(campaign, &all.cut, &all.dash);
    if (all.loads || all.cut || all.dash) add_introduction(d, &all);
    d->chapter = true;
    for (size_t i = 0; grids && i < campaign->design_count; i++) add_design(d, &grids[i]);
    add_matches(d, campaign);
    d->chapter = false;
}
