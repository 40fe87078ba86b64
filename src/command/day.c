#include "command/day.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "command/program.h"
#include "command/undo.h"
#include "holdfast/base/number.h"
#include "holdfast/campaign/sanity.h"
#include "holdfast/study/plan.h"
#include "platform/clock.h"

enum { MODES_OFFERED = 9 };

const hf_day_key hf_day_keys[] = {{'\0', "", "it hangs: start the dwell", "dwell"},
                                  {'h', "", "it held", "held"},
                                  {'a', "", "it failed while adding", "adding"},
                                  {'d', "", "it failed in the dwell", "in dwell"},
                                  {'x', "", "dropped on, and it failed", "dropped"},
                                  {'r', "", "the rig let go", "rig"},
                                  {'o', "", "out of weight; it holds", "out"},
                                  {'u', "", "one rung back; from the first, the part before", "back"},
                                  {'n', " TEXT", "a note", "note"},
                                  {'p', " NAME", "name of a photo", "photo"},
                                  {'q', "", "stop for now", "stop"},
                                  {'\0', NULL, NULL, NULL}};

const char *hf_day_caution(size_t at) {
    static const char stop[] =
        "Stop when anything creaks, leans or bends that should not; never reach under a load.";
    const char *const cautions[] = {hf_program_limits[0], stop, hf_program_limits[2], NULL};
    return cautions[at];
}

/* --- What is told ------------------------------------------------------------------------------------ */

static const char *text_or_nothing(const char *text) {
    return text ? text : "";
}

static bool records_added(const hf_day *d) {
    return d->campaign->rig.force.records == HF_RIG_RECORDS_ADDED;
}

static const hf_sheet_rung *rung_at(const hf_day *d, size_t rung) {
    return &d->part->ladder->rungs[rung];
}

const char *hf_day_load(const hf_day *d, size_t rung) {
    char number[HF_NUMBER_SIZE];
    const hf_sheet_rung *r = rung_at(d, rung);
    const hf_unit *unit = records_added(d) && r->hung_unit ? r->hung_unit : d->campaign->unit;
    double value = hf_number_round(r->recorded / hf_unit_newtons(unit, d->campaign->gravity), 12);
    return text_or_nothing(
        hf_arena_format(d->request->arena, "%s %s", hf_number_shortest(value, number), unit->name));
}

const char *hf_day_place(const hf_day *d) {
    return text_or_nothing(hf_arena_format(d->request->arena, "%s, rung %zu of %zu", d->progress.part,
                                           d->progress.held + 1, d->part->ladder->count));
}

const char *hf_day_doing(const hf_day *d) {
    return d->back ? "" : rung_at(d, d->progress.held)->doing;
}

const char *hf_day_force(const hf_day *d) {
    char force[HF_NUMBER_SIZE];
    return text_or_nothing(hf_arena_format(d->request->arena, "%s N on the part",
                                           hf_number_figures(rung_at(d, d->progress.held)->force, 4, force)));
}

/* --- What is written --------------------------------------------------------------------------------- */

static hf_status keep_progress(hf_day *d) {
    char now[26];
    hf_platform_now(now);
    return hf_journal_add_progress(d->path, now, &d->progress, &d->request->error);
}

typedef struct day_record {
    hf_day *d;
    hf_record_change change;
    hf_findings refused;
} day_record;

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    day_record *record = context;
    return hf_campaign_record(record->d->request->arena, now, record->d->progress.part, &record->change,
                              false, text, &record->refused, error);
}

/* The part with what happened; in the journal as the command that would have said the same. */
static hf_status write_part(hf_day *d, hf_record_change change) {
    hf_arena *arena = d->request->arena;
    char today[11], seconds[32];
    hf_platform_today(today);
    change.date = today;
    change.note = d->progress.note;
    change.photo = d->progress.photo;
    change.by = d->by;
    if (!isnan(d->started)) {
        (void)snprintf(seconds, sizeof seconds, "%.0f", hf_platform_seconds() - d->started);
        change.duration = seconds;
    }
    day_record record = {.d = d, .change = change};
    hf_campaign_change file = hf_request_change(d->request, d->path, edit, &record);
    file.command = hf_arena_format(arena, "holdfast day %s: %s%s%s%s%s%s%s", d->path, d->progress.part,
                                   change.held ? " held " : "", change.held ? change.held : "",
                                   change.failed ? " failed " : "", change.failed ? change.failed : "",
                                   change.outcome ? " outcome " : "", change.outcome ? change.outcome : "");
    hf_status status = hf_campaign_change_make(arena, &file, &d->request->error);
    if (status != HF_OK && record.refused.errors)
        (void)hf_error_set(&d->request->error, status, "%s: %s", d->progress.part,
                           record.refused.items[0].message);
    return status;
}

/* --- One part ---------------------------------------------------------------------------------------- */

static hf_record_change failed_at(hf_day *d, const char *phase, bool dropped) {
    size_t at = d->progress.held;
    return (hf_record_change){.held = at                 ? hf_day_load(d, at - 1)
                                      : records_added(d) ? "0"
                                                         : NULL,
                              .failed = hf_day_load(d, at),
                              .phase = phase,
                              .dropped = dropped ? "true" : NULL};
}

static void say_pull(hf_day *d, const hf_record_change *change, double known) {
    char low[HF_NUMBER_SIZE], high[HF_NUMBER_SIZE], before[HF_NUMBER_SIZE];
    hf_arena *arena = d->request->arena;
    size_t at = d->progress.held;
    double held = at                 ? rung_at(d, at - 1)->force
                  : records_added(d) ? hf_rig_force_of_record(&d->campaign->rig.force, 0)
                                     : 0;
    hf_number_figures(held, 4, low);
    const char *words =
        change->failed
            ? hf_arena_format(arena, "%s: failed between %s and %s N on the part", d->progress.part, low,
                              hf_number_figures(rung_at(d, at)->force, 4, high))
            : hf_arena_format(arena, "%s: held %s N on the part and did not fail", d->progress.part, low);
    if (words && known > 0)
        words = hf_arena_format(arena, "%s; known of the design before it: about %s N", words,
                                hf_number_figures(known, 3, before));
    d->view->say(d, text_or_nothing(words));
}

/* The ways of failing that the design has shown so far, in the order they came. */
static size_t modes_so_far(const hf_design *design, const char *modes[MODES_OFFERED]) {
    size_t count = 0;
    for (size_t i = 0; i < design->specimen_count && count < MODES_OFFERED; i++) {
        const char *mode = design->specimens[i].mode;
        bool known = !mode;
        for (size_t k = 0; k < count && !known; k++) known = strcmp(mode, modes[k]) == 0;
        if (!known) modes[count++] = mode;
    }
    return count;
}

/* A figure stands for one of the ways that are known. */
static const char *ask_mode(hf_day *d, const hf_design *design) {
    const char *modes[MODES_OFFERED];
    size_t count = modes_so_far(design, modes);
    hf_text words = {0};
    hf_text_add(&words, "How did it fail (empty: unseen");
    for (size_t i = 0; i < count; i++) hf_text_addf(&words, "%s%zu: %s", i ? ", " : "; ", i + 1, modes[i]);
    hf_text_add(&words, ")");
    const char *answer = d->view->ask(d, words.bytes ? words.bytes : "How did it fail");
    hf_text_free(&words);
    size_t chosen = answer && answer[0] && !answer[1] ? (size_t)(answer[0] - '0') : 0;
    return chosen >= 1 && chosen <= count ? modes[chosen - 1] : answer;
}

/* What happened to the part is asked to its end and written. */
static hf_status finish_part(hf_day *d, hf_record_change change) {
    const hf_design *design = d->part->ladder->design;
    double known = hf_known_strength(d->request->arena, design);
    if (change.failed) change.mode = ask_mode(d, design);
    hf_status status = write_part(d, change);
    if (status != HF_OK) return status;
    d->pulled++;
    d->last = d->progress;
    say_pull(d, &change, known);
    return HF_OK;
}

typedef enum day_step { STEP_RUNG, STEP_PART, STEP_STOP } day_step;

/* One rung back; from the first, the part before is planned again and goes on at its last rung. */
static hf_status step_back(hf_day *d, day_step *step) {
    if (d->progress.held) {
        d->progress.held--;
        d->back = true;
        return keep_progress(d);
    }
    if (!d->last.part) {
        d->view->say(d, "This is the first rung; q, then holdfast undo takes the part before back.");
        return HF_OK;
    }
    hf_undo undo;
    hf_status status = hf_undo_make(d->request, d->path, &undo);
    if (status != HF_OK) return status;
    d->progress = d->last;
    d->last.part = NULL;
    d->pulled--;
    *step = STEP_PART;
    return keep_progress(d);
}

/* `line`: a key, with what stands behind it. */
static hf_status take_key(hf_day *d, const char *line, day_step *step) {
    const char *rest = line[0] ? line + 1 + strspn(line + 1, " ") : line;
    size_t held = d->progress.held;
    switch (line[0]) {
    case '\0':
        if (d->dwell_s > 0) d->view->count_down(d);
        return HF_OK;
    case 'h':
        d->progress.held++;
        d->back = false;
        if (d->progress.held < d->part->ladder->count) return keep_progress(d);
        *step = STEP_PART;
        d->view->say(d, "That was the last rung: a run-out.");
        return finish_part(d, (hf_record_change){.held = hf_day_load(d, held), .outcome = "held"});
    case 'a':
    case 'd':
    case 'x':
        *step = STEP_PART;
        return finish_part(d, failed_at(d, line[0] == 'd' ? "dwell" : "adding", line[0] == 'x'));
    case 'r':
    case 'o':
        if (!held) {
            d->view->say(d, "Nothing was held yet: q stops, and holdfast record writes a void pull.");
            return HF_OK;
        }
        *step = STEP_PART;
        return finish_part(d, (hf_record_change){.held = hf_day_load(d, held - 1),
                                                 .outcome = line[0] == 'r' ? "rig" : "held"});
    case 'u':
        return step_back(d, step);
    case 'n':
        d->progress.note = rest[0] ? rest : NULL;
        return keep_progress(d);
    case 'p':
        d->progress.photo = rest[0] ? rest : NULL;
        return keep_progress(d);
    case 'q':
        *step = STEP_STOP;
        return HF_OK;
    default:
        d->view->keys(d);
        return HF_OK;
    }
}

static hf_status pull_part(hf_day *d, day_step *step) {
    hf_status status = HF_OK;
    size_t shown = SIZE_MAX;
    for (*step = STEP_RUNG; status == HF_OK && *step == STEP_RUNG;) {
        if (shown != d->progress.held) d->view->show(d);
        shown = d->progress.held;
        const char *line = d->view->key(d);
        if (!line) {
            *step = STEP_STOP;
            return HF_OK;
        }
        status = take_key(d, line, step);
    }
    return status;
}

/* --- The day ----------------------------------------------------------------------------------------- */

/* The file as it is now, the next part of it, and what is known of it from before. */
static hf_status find_part(hf_day *d) {
    const hf_journal *journal;
    hf_error *error = &d->request->error;
    hf_status status = hf_campaign_read(d->request->arena, d->path, &d->campaign, &d->findings, error);
    if (status == HF_OK) status = hf_sheet_make(d->request->arena, d->campaign, d->design, &d->sheet, error);
    if (status == HF_OK)
        status = hf_journal_read(d->request->arena, d->path, d->campaign->sha256, &journal, error);
    if (status != HF_OK) return status;
    if (isnan(d->dwell_s))
        d->dwell_s = d->campaign->rig.dwell_s.given ? d->campaign->rig.dwell_s.value : HF_USUAL_DWELL;
    d->part = &d->sheet->parts[0];
    if (!d->part->ladder || !d->part->ladder->count)
        return hf_error_set(error, HF_NO_RESULT,
                            "%s has no ladder to climb; plan first: holdfast plan %s --write",
                            d->part->specimen->id, d->path);
    const hf_pull_progress *old = &journal->progress;
    bool goes_on =
        old->part && strcmp(old->part, d->part->specimen->id) == 0 && old->held < d->part->ladder->count;
    d->progress = goes_on ? *old : (hf_pull_progress){.part = d->part->specimen->id};
    d->started = goes_on ? NAN : hf_platform_seconds();
    d->back = goes_on && old->held;
    if (goes_on && old->held)
        d->view->say(d, text_or_nothing(hf_arena_format(d->request->arena, "%s goes on: %s was held before",
                                                        old->part, hf_day_load(d, old->held - 1))));
    return HF_OK;
}

hf_status hf_day_go(hf_day *d) {
    day_step step = STEP_PART;
    hf_status status = find_part(d);
    while (status == HF_OK && step == STEP_PART) {
        status = pull_part(d, &step);
        if (status == HF_OK && step == STEP_PART) status = find_part(d);
    }
    return status;
}
