#include "handover/pulls_grid.h"

#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "handover/handover_report.h"

enum { NOTE_COLUMNS = 400, FORCE_FIGURES = 4, MOST_FIGURES = 7 };

static const char *or_lost(const char *text) {
    return text ? text : "-";
}

size_t hf_pulls_room(size_t column) {
    return column == HF_PULLS_NOTE ? NOTE_COLUMNS : HF_NAME_COLUMNS;
}

/* What did not happen in that pull and so cannot be stated of it; NULL: it could have been. */
static const char *did_not_happen(const hf_specimen *s) {
    if (s->outcome == HF_OUTCOME_PLANNED) return "none yet";
    return s->outcome == HF_OUTCOME_HELD || s->outcome == HF_OUTCOME_RIG ? "none" : NULL;
}

/* --- What a cell says -------------------------------------------------------------------------------- */

/* The load as it was written, a bare number with the file's unit. */
static const char *written(hf_document *d, const hf_campaign *campaign, const hf_specimen *s,
                           const char *key) {
    const hf_json *node = s->node ? hf_json_get(s->node, key) : NULL;
    if (!node) return NULL;
    if (node->kind == HF_JSON_TEXT) return node->text;
    return or_lost(
        hf_arena_format(d->arena, "%s %s", hf_show_text(d, HF_AS_GIVEN, node->number), campaign->unit->name));
}

/* "not at 600 N, seen at 640 N", as written. */
static const char *set_cell(hf_document *d, const hf_campaign *campaign, const hf_specimen *s) {
    const char *held = written(d, campaign, s, "set_held"), *seen = written(d, campaign, s, "set_seen");
    if (!held && !seen) return NULL;
    return or_lost(hf_arena_format(d->arena, "%s%s%s%s%s", held ? "not at " : "", held ? held : "",
                                   held && seen ? ", " : "", seen ? "seen at " : "", seen ? seen : ""));
}

static const char *outcome_cell(hf_document *d, const hf_specimen *s) {
    static const char *const words[] = {"failed", "held, run-out", "rig let go", "void", "planned"};
    static const char *const phases[] = {"", " while adding", " in the dwell"};
    return or_lost(hf_arena_format(d->arena, "%s%s%s%s", words[s->outcome], phases[s->phase],
                                   s->dropped ? ", weight dropped on" : "",
                                   s->reused ? ", pulled before" : ""));
}

static const char *ends_cell(hf_document *d, const hf_specimen *s) {
    static const char *const broke[] = {"", ", first broke", ", second broke", ", both broke"};
    if (!s->ends[0]) return NULL;
    return or_lost(
        hf_arena_format(d->arena, "%s, %s%s", s->ends[0], hf_or_not_stated(s->ends[1]), broke[s->broke]));
}

static const char *note_cell(hf_document *d, const hf_specimen *s) {
    hf_text text = {0};
    if (!s->info.count) return s->note;
    if (s->note) hf_text_add(&text, s->note);
    for (size_t i = 0; i < s->info.count; i++)
        hf_text_addf(&text, "%s%s: %s", text.length ? "; " : "", s->info.pairs[i].key,
                     s->info.pairs[i].value);
    const char *note = text.length ? hf_arena_text(d->arena, text.bytes, text.length) : NULL;
    hf_text_free(&text);
    return note;
}

static void fill_row(hf_document *d, const hf_campaign *campaign, const hf_specimen *s, const char **cells) {
    cells[HF_PULLS_DATE] = s->date;
    cells[HF_PULLS_ORDER] = s->order.given ? hf_show_text(d, HF_AS_GIVEN, s->order.value) : NULL;
    cells[HF_PULLS_BATCH] = s->batch;
    cells[HF_PULLS_HELD] = written(d, campaign, s, "held");
    cells[HF_PULLS_FAILED] = written(d, campaign, s, "failed");
    if (!cells[HF_PULLS_FAILED]) cells[HF_PULLS_FAILED] = did_not_happen(s);
    cells[HF_PULLS_PEAK] = written(d, campaign, s, "peak");
    cells[HF_PULLS_OUTCOME] = outcome_cell(d, s);
    cells[HF_PULLS_MODE] = s->mode ? s->mode : did_not_happen(s);
    cells[HF_PULLS_SET] = set_cell(d, campaign, s);
    cells[HF_PULLS_TIME] = s->duration_s.given ? hf_show_text(d, HF_AS_GIVEN, s->duration_s.value) : NULL;
    cells[HF_PULLS_TARE] = written(d, campaign, s, "tare");
    cells[HF_PULLS_ENDS] = ends_cell(d, s);
    cells[HF_PULLS_NOTE] = note_cell(d, s);
}

/* --- Force on the part ------------------------------------------------------------------------------- */

static const hf_pull *pull_of(const hf_specimen *s) {
    return s->outcome == HF_OUTCOME_VOID ? &s->voided : &s->pull;
}

static bool has_upper(const hf_pull *pull) {
    return pull->kind != HF_INTERVAL_ABOVE && pull->kind != HF_INTERVAL_NONE;
}

/* Whether one decimal less says the same of every end. */
static bool idle(const hf_document *d, const hf_design *design, int decimals) {
    double scale = pow(10, decimals - 1);
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_pull *pull = pull_of(&design->specimens[i]);
        const double ends[] = {pull->kind == HF_INTERVAL_NONE ? 0 : pull->lower,
                               has_upper(pull) ? pull->upper : 0};
        for (int k = 0; k < 2; k++) {
            double scaled = hf_in_unit(d->style, ends[k]) * scale;
            if (fabs(scaled - round(scaled)) > 1e-6) return false;
        }
    }
    return true;
}

/* One number of decimals for the whole column: four figures of the smallest force, no idle zeros; -1: the forces are too far apart for one. */
static int decimals_of(const hf_document *d, const hf_design *design) {
    double least = INFINITY, most = 0;
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_pull *pull = pull_of(&design->specimens[i]);
        if (pull->kind == HF_INTERVAL_NONE) continue;
        double lower = hf_in_unit(d->style, pull->lower),
               upper = has_upper(pull) ? hf_in_unit(d->style, pull->upper) : lower;
        least = fmin(least, lower > 0 ? lower : upper > 0 ? upper : least);
        most = fmax(most, upper);
    }
    if (!(most > 0) || least < 1e-9 || most > 1e9) return most > 0 ? -1 : 0;
    int decimals = (int)fmax(0, FORCE_FIGURES - 1 - floor(log10(least)));
    if (floor(log10(most)) + 1 + decimals > MOST_FIGURES) return -1;
    while (decimals > 0 && idle(d, design, decimals)) decimals--;
    return decimals;
}

static const char *force_text(hf_document *d, double newtons, int decimals) {
    if (newtons == 0) return "0";
    if (decimals < 0) return hf_bare_text(d, HF_AS_MEAN, newtons);
    return or_lost(hf_arena_format(d->arena, "%.*f", decimals, hf_in_unit(d->style, newtons)));
}

static const char *force_cell(hf_document *d, const hf_pull *pull, int decimals) {
    if (pull->kind == HF_INTERVAL_NONE) return "none";
    const char *lower = force_text(d, pull->lower, decimals);
    if (pull->kind == HF_INTERVAL_ABOVE) return or_lost(hf_arena_format(d->arena, "> %s", lower));
    if (pull->lower == pull->upper) return lower;
    return or_lost(hf_arena_format(d->arena, "%s–%s", lower, force_text(d, pull->upper, decimals)));
}

static bool is_load(hf_maybe recorded, double newtons) {
    return recorded.given && fabs(recorded.value - newtons) <= 1e-9 * fabs(newtons);
}

/* Whether the pull as force on the part says what was recorded and no more. */
static bool says_the_same(const hf_specimen *s) {
    const hf_pull *pull = pull_of(s);
    switch (pull->kind) {
    case HF_INTERVAL_NONE:
        return true;
    case HF_INTERVAL_EXACT:
        return is_load(s->peak, pull->lower);
    case HF_INTERVAL_CLOSED:
        return is_load(s->held, pull->lower) && is_load(s->failed, pull->upper);
    case HF_INTERVAL_BELOW:
        return (pull->lower == 0 || is_load(s->held, pull->lower)) && is_load(s->failed, pull->upper);
    case HF_INTERVAL_ABOVE:
        break;
    }
    return is_load(s->held, pull->lower) || is_load(s->peak, pull->lower);
}

static void fill_forces(hf_document *d, hf_pulls_grid *grid) {
    int decimals = decimals_of(d, grid->design);
    for (size_t i = 0; i < grid->design->specimen_count; i++) {
        const hf_pull *pull = pull_of(&grid->design->specimens[i]);
        grid->cells[i][HF_PULLS_FORCE] = force_cell(d, pull, decimals);
        grid->forces = grid->forces || pull->kind != HF_INTERVAL_NONE;
        grid->above = grid->above || pull->kind == HF_INTERVAL_ABOVE;
        grid->intervals = grid->intervals || (has_upper(pull) && pull->lower != pull->upper);
    }
    grid->unit[HF_PULLS_FORCE] = d->style->unit;
}

/* --- Loads and their units --------------------------------------------------------------------------- */

static const size_t loads[] = {HF_PULLS_HELD, HF_PULLS_FAILED, HF_PULLS_PEAK, HF_PULLS_TARE};
enum { LOADS = sizeof loads / sizeof *loads };

/* Reads a cell of loads; false: it holds none. */
static bool load_of(const hf_campaign *campaign, const char *cell, hf_load *out) {
    hf_error unused = {0};
    return cell && hf_load_read(cell, strlen(cell), campaign->unit, out, &unused) == HF_OK;
}

/* The unit that all loads of a column have; NULL: there are several, or no load. */
static const hf_unit *unit_of(const hf_campaign *campaign, hf_pulls_grid *grid, size_t column) {
    const hf_unit *unit = NULL;
    bool one = true;
    for (size_t i = 0; i < grid->design->specimen_count; i++) {
        hf_load load;
        if (!load_of(campaign, grid->cells[i][column], &load)) continue;
        grid->mass = grid->mass || load.unit->is_mass;
        one = one && (!unit || unit == load.unit);
        unit = load.unit;
    }
    return one ? unit : NULL;
}

/* "80 kg" under the head "held, kg" is 80, with the digits as they were written. */
static void take_units_off(hf_document *d, const hf_campaign *campaign, hf_pulls_grid *grid, size_t column) {
    for (size_t i = 0; i < grid->design->specimen_count; i++) {
        hf_load load;
        const char *cell = grid->cells[i][column];
        if (!load_of(campaign, cell, &load)) continue;
        cell += strspn(cell, " \t");
        size_t length = strlen(cell) - strlen(strstr(cell, load.unit->name) ? load.unit->name : "");
        while (length && strchr(" \t", cell[length - 1])) length--;
        grid->cells[i][column] = or_lost(hf_arena_text(d->arena, cell, length));
    }
}

static void read_units(hf_document *d, const hf_campaign *campaign, hf_pulls_grid *grid) {
    for (size_t i = 0; i < LOADS; i++) {
        grid->unit[loads[i]] = unit_of(campaign, grid, loads[i]);
        if (grid->unit[loads[i]]) take_units_off(d, campaign, grid, loads[i]);
    }
}

/* --- How columns are shown --------------------------------------------------------------------------- */

/* Whether a column says the same of all pulls. */
static bool all_alike(const hf_pulls_grid *grid, size_t column) {
    const char *first = grid->cells[0][column];
    for (size_t i = 1; i < grid->design->specimen_count; i++) {
        const char *cell = grid->cells[i][column];
        if (first && cell ? strcmp(first, cell) != 0 : first != cell) return false;
    }
    return true;
}

/* Whether no pull states anything there: what did not happen is no statement. */
static bool is_empty(const hf_pulls_grid *grid, size_t column) {
    for (size_t i = 0; i < grid->design->specimen_count; i++) {
        const char *cell = grid->cells[i][column];
        if (cell && cell != did_not_happen(&grid->design->specimens[i])) return false;
    }
    return true;
}

/* Whether every force is the load recorded, in the unit it was recorded in. */
static bool as_recorded(const hf_document *d, const hf_pulls_grid *grid) {
    for (size_t i = 0; i < LOADS; i++) {
        const hf_unit *unit = grid->unit[loads[i]];
        bool none = is_empty(grid, loads[i]);
        if (!none && unit != d->style->unit) return false;
    }
    for (size_t i = 0; i < grid->design->specimen_count; i++)
        if (!says_the_same(&grid->design->specimens[i])) return false;
    return true;
}

static hf_showing showing_of(const hf_document *d, const hf_pulls_grid *grid, size_t column) {
    if (column == HF_PULLS_FORCE) return as_recorded(d, grid) ? HF_AS_RECORDED : HF_SHOWN;
    if (!all_alike(grid, column)) return is_empty(grid, column) ? HF_NOT_STATED : HF_SHOWN;
    if (!grid->cells[0][column]) return HF_NOT_STATED;
    return grid->design->specimen_count > 1 ? HF_ALL_ALIKE : HF_SHOWN;
}

static void judge(const hf_document *d, hf_pulls_grid *grid) {
    for (size_t j = 0; j < HF_PULLS_COLUMNS; j++) {
        grid->how[j] = showing_of(d, grid, j);
        for (size_t i = 0; i < grid->design->specimen_count; i++) {
            const char *cell = grid->cells[i][j];
            grid->dash = grid->dash || (grid->how[j] == HF_SHOWN && (!cell || !cell[0]));
            grid->cut = grid->cut || (cell && hf_text_columns(cell) > hf_pulls_room(j));
        }
    }
    for (size_t i = 0; i < grid->design->specimen_count; i++)
        grid->cut = grid->cut || hf_text_columns(grid->design->specimens[i].id) > HF_NAME_COLUMNS;
}

bool hf_pulls_grid_fill(hf_document *d, const hf_campaign *campaign, const hf_design *design,
                        hf_pulls_grid *out) {
    *out = (hf_pulls_grid){.design = design};
    if (!design->specimen_count) return true;
    out->cells = hf_arena_array(d->arena, design->specimen_count, sizeof *out->cells);
    if (!out->cells) return false;
    for (size_t i = 0; i < design->specimen_count; i++)
        fill_row(d, campaign, &design->specimens[i], out->cells[i]);
    fill_forces(d, out);
    read_units(d, campaign, out);
    judge(d, out);
    return true;
}
