/* Test day at the rig, line by line: one key and Enter for what happened, each on the disk before the next. */
#include "command/commands.h"
#include "command/common.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include "command/program.h"
#include "holdfast/base/number.h"
#include "holdfast/campaign/journal.h"
#include "holdfast/study/plan.h"
#include "holdfast/study/standing.h"
#include "platform/clock.h"
#include "platform/files.h"
#include "platform/terminal.h"

enum { LINE_SIZE = 1024 };

typedef struct day_options {
    hf_option_value design, dwell, by;
    hf_help_values help;
} day_options;

#define VALUE(member) .offset = offsetof(day_options, member)

static const hf_option own_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "only the parts of this design",
     VALUE(design)},
    {.name = "dwell",
     .type = HF_OPTION_NUMBER,
     .value_name = "SECONDS",
     .maximum = 86400,
     .help = "how long each load stands; rig.dwell_s of the file, else 30, when not given; 0: no countdown",
     VALUE(dwell)},
    {.name = "by",
     .type = HF_OPTION_TEXT,
     .value_name = "NAME",
     .help = "who pulls, written to every part",
     VALUE(by)},
    {.name = NULL}};

/* What is typed, read past stdio so that a countdown can see whether a line waits. */
typedef struct typed_lines {
    char bytes[LINE_SIZE];
    size_t length;
    bool ended;
} typed_lines;

typedef struct day {
    hf_request *request;
    const char *path;
    typed_lines lines;
    const hf_campaign *campaign;
    const hf_sheet *sheet;
    const hf_sheet_part *part;
    hf_pull_progress progress;
    double started; /* of this part, by hf_platform_seconds; NaN when it went on from another session */
    double dwell_s;
    bool back; /* what to put on is not told from the rung before */
} day;

/* --- Lines in ---------------------------------------------------------------------------------------- */

static bool has_line(const typed_lines *lines) {
    return lines->length && memchr(lines->bytes, '\n', lines->length);
}

/* Waits; false when the input has ended. */
static bool more_input(typed_lines *lines) {
    long count = lines->length < LINE_SIZE - 1
                     ? hf_platform_read(0, lines->bytes + lines->length, LINE_SIZE - 1 - lines->length)
                     : 0;
    if (count <= 0) lines->ended = true;
    if (count > 0) lines->length += (size_t)count;
    return count > 0;
}

/* The next line without its end and the blanks around it, in the arena; NULL when the input has ended. */
static const char *next_line(day *d) {
    typed_lines *lines = &d->lines;
    while (!has_line(lines))
        if (!more_input(lines)) return NULL;
    size_t length = (size_t)((char *)memchr(lines->bytes, '\n', lines->length) - lines->bytes), start = 0,
           end = length;
    while (start < end && strchr(" \t\r", lines->bytes[start])) start++;
    while (end > start && strchr(" \t\r", lines->bytes[end - 1])) end--;
    const char *line = hf_arena_text(d->request->arena, lines->bytes + start, end - start);
    lines->length -= length + 1;
    memmove(lines->bytes, lines->bytes + length + 1, lines->length);
    return line;
}

static const char *ask(day *d, const char *words) {
    hf_say("%s: ", words);
    return next_line(d);
}

/* --- Loads ------------------------------------------------------------------------------------------- */

/* A recorded load as somebody at the rig would write it: in the unit of the plates where these are masses, else in the file's. */
static const char *load_text(day *d, size_t rung) {
    char number[HF_NUMBER_SIZE];
    const hf_sheet_rung *r = &d->part->ladder->rungs[rung];
    const hf_unit *unit = d->campaign->rig.force.records == HF_RIG_RECORDS_ADDED && r->hung_unit
                              ? r->hung_unit
                              : d->campaign->unit;
    double value = hf_number_round(r->recorded / hf_unit_newtons(unit, d->campaign->gravity), 12);
    const char *text =
        hf_arena_format(d->request->arena, "%s %s", hf_number_shortest(value, number), unit->name);
    return text ? text : "";
}

static double force_at(const day *d, size_t rung) {
    return d->part->ladder->rungs[rung].force;
}

/* --- What is written --------------------------------------------------------------------------------- */

static hf_status keep_progress(day *d) {
    char now[26];
    hf_platform_now(now);
    return hf_journal_add_progress(d->path, now, &d->progress, &d->request->error);
}

typedef struct day_record {
    day *d;
    hf_record_change change;
    hf_findings refused;
} day_record;

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    day_record *record = context;
    return hf_campaign_record(record->d->request->arena, now, record->d->progress.part, &record->change,
                              false, text, &record->refused, error);
}

/* The part with what happened; in the journal as the command that would have said the same. */
static hf_status write_part(day *d, hf_record_change change) {
    const day_options *options = d->request->options;
    hf_arena *arena = d->request->arena;
    char today[11], seconds[32];
    hf_platform_today(today);
    change.date = today;
    change.note = d->progress.note;
    change.photo = d->progress.photo;
    change.by = options->by.given ? options->by.text : NULL;
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

static const char keys_line[] = "What you can type, each with Enter:\n"
                                "  (nothing)  it hangs: start the dwell\n"
                                "  h          it held\n"
                                "  a          it failed while adding\n"
                                "  d          it failed in the dwell\n"
                                "  x          dropped on, and it failed\n"
                                "  r          the rig let go\n"
                                "  o          out of weight; it holds\n"
                                "  u          one rung back\n"
                                "  n TEXT     a note\n"
                                "  p NAME     name of a photo\n"
                                "  q          stop for now\n";

static void say_wrapped(const day *d, const char *words) {
    hf_text text = {0};
    hf_text_wrap(&text, words, d->request->terminal->width, "", "");
    hf_say("%s", text.bytes ? text.bytes : "");
    hf_text_free(&text);
}

static void show_rung(day *d) {
    const hf_sheet_rung *rung = &d->part->ladder->rungs[d->progress.held];
    char force[HF_NUMBER_SIZE];
    hf_say("\n%s, rung %zu of %zu\n", d->progress.part, d->progress.held + 1, d->part->ladder->count);
    if (rung->doing[0] && !d->back) hf_say("  %s\n", rung->doing);
    if (rung->hangs[0]) hf_say("  then hangs %s\n", rung->hangs);
    hf_say("  %s, %s N on the part\n", load_text(d, d->progress.held),
           hf_number_figures(rung->force, 4, force));
    d->back = false;
}

/* Counts down until the dwell is over or a line is typed. */
static void count_down(day *d) {
    double end = hf_platform_seconds() + d->dwell_s;
    double next = d->dwell_s;
    hf_say("hands off, %.0f s\n", d->dwell_s);
    while (!has_line(&d->lines) && !d->lines.ended) {
        double left = end - hf_platform_seconds();
        if (left <= 0) {
            if (d->request->terminal->errors)
                fputc('\a', stderr); /* what is said has its control characters spelled out */
            hf_say("0: held? h or d\n");
            return;
        }
        if (left <= next - 10) {
            next -= 10;
            hf_say("%.0f\n", next);
        }
        if (hf_platform_input_within(left < 0.2 ? left : 0.2) && !more_input(&d->lines)) return;
    }
}

static hf_record_change failed_at(day *d, const char *phase, bool dropped) {
    size_t at = d->progress.held;
    bool hanger = d->campaign->rig.force.records == HF_RIG_RECORDS_ADDED;
    return (hf_record_change){.held = at       ? load_text(d, at - 1)
                                      : hanger ? "0"
                                               : NULL,
                              .failed = load_text(d, at),
                              .phase = phase,
                              .dropped = dropped ? "true" : NULL};
}

static void say_pull(day *d, const hf_record_change *change, double known) {
    char low[HF_NUMBER_SIZE], high[HF_NUMBER_SIZE], before[HF_NUMBER_SIZE], words[256];
    size_t at = d->progress.held;
    bool hanger = d->campaign->rig.force.records == HF_RIG_RECORDS_ADDED;
    double held = at ? force_at(d, at - 1) : hanger ? hf_rig_force_of_record(&d->campaign->rig.force, 0) : 0;
    int length =
        change->failed
            ? snprintf(words, sizeof words, "%.80s: failed between %s and %s N on the part", d->progress.part,
                       hf_number_figures(held, 4, low), hf_number_figures(force_at(d, at), 4, high))
            : snprintf(words, sizeof words, "%.80s: held %s N on the part and did not fail", d->progress.part,
                       hf_number_figures(held, 4, low));
    if (known > 0 && length > 0 && (size_t)length < sizeof words)
        (void)snprintf(words + length, sizeof words - (size_t)length,
                       "; known of the design before it: about %s N", hf_number_figures(known, 3, before));
    say_wrapped(d, words);
}

/* What happened to the part is asked to its end and written. */
static hf_status finish_part(day *d, hf_record_change change) {
    const hf_design *design = NULL;
    (void)hf_campaign_specimen(d->campaign, d->progress.part, &design);
    double known = design ? hf_known_strength(d->request->arena, design) : 0;
    if (change.failed) change.mode = ask(d, "How did it fail (empty: unseen)");
    hf_status status = write_part(d, change);
    if (status == HF_OK) say_pull(d, &change, known);
    return status;
}

typedef enum day_step { STEP_RUNG, STEP_PART, STEP_STOP } day_step;

/* One rung back; from the first, the part before is planned again. */
static hf_status step_back(day *d, day_step *step) {
    if (d->progress.held) {
        d->progress.held--;
        d->back = true;
        return keep_progress(d);
    }
    say_wrapped(d, "This is the first rung; q, then holdfast undo takes the part before back.");
    *step = STEP_RUNG;
    return HF_OK;
}

/* `key` as it was typed, with what stands behind it. */
static hf_status take_key(day *d, const char *line, day_step *step) {
    const char *rest = line[0] ? line + 1 + strspn(line + 1, " ") : line;
    size_t held = d->progress.held;
    *step = STEP_RUNG;
    switch (line[0]) {
    case '\0':
        if (d->dwell_s > 0) count_down(d);
        return HF_OK;
    case 'h':
        d->progress.held++;
        if (d->progress.held < d->part->ladder->count) return keep_progress(d);
        *step = STEP_PART;
        hf_say("That was the last rung: a run-out.\n");
        return finish_part(d, (hf_record_change){.held = load_text(d, held), .outcome = "held"});
    case 'a':
    case 'd':
    case 'x':
        *step = STEP_PART;
        return finish_part(d, failed_at(d, line[0] == 'd' ? "dwell" : "adding", line[0] == 'x'));
    case 'r':
    case 'o':
        if (!held) {
            say_wrapped(d, "Nothing was held yet: q stops, and holdfast record writes a void pull.");
            return HF_OK;
        }
        *step = STEP_PART;
        return finish_part(d, (hf_record_change){.held = load_text(d, held - 1),
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
        hf_say("%s", keys_line);
        return HF_OK;
    }
}

static hf_status pull_part(day *d, day_step *step) {
    hf_status status = HF_OK;
    size_t shown = SIZE_MAX;
    for (*step = STEP_RUNG; status == HF_OK && *step == STEP_RUNG;) {
        if (shown != d->progress.held) show_rung(d);
        shown = d->progress.held;
        const char *line = ask(d, "key");
        if (!line) {
            *step = STEP_STOP;
            return HF_OK;
        }
        status = take_key(d, line, step);
    }
    return status;
}

/* --- The day ----------------------------------------------------------------------------------------- */

/* The file as it is now, the next part of it, and what is known of it from before. False: nothing is left, or it went wrong. */
static hf_status find_part(day *d) {
    const day_options *options = d->request->options;
    hf_findings findings;
    const hf_journal *journal;
    hf_error *error = &d->request->error;
    hf_status status = hf_campaign_read(d->request->arena, d->path, &d->campaign, &findings, error);
    if (status == HF_BAD_DATA && findings.errors) (void)hf_findings_print(d->request, &findings, d->path);
    if (status == HF_OK)
        status = hf_sheet_make(d->request->arena, d->campaign,
                               options->design.given ? options->design.text : NULL, &d->sheet, error);
    if (status == HF_OK)
        status = hf_journal_read(d->request->arena, d->path, d->campaign->sha256, &journal, error);
    if (status != HF_OK) return status;
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
    if (goes_on && old->held)
        hf_say("%s goes on: %s was held before\n", old->part, load_text(d, old->held - 1));
    double rig = d->campaign->rig.dwell_s.given ? d->campaign->rig.dwell_s.value : HF_USUAL_DWELL;
    d->dwell_s = options->dwell.given ? options->dwell.number : rig;
    return HF_OK;
}

static hf_exit run(hf_request *request) {
    day d = {.request = request, .path = request->arguments[0]};
    day_step step = STEP_PART;
    size_t pulled = 0;
    if (!hf_request_in_place(request)) return hf_request_fail(request);
    say_wrapped(&d, hf_program_limits[0]);
    say_wrapped(&d, "Stop when anything creaks, leans or bends that should not; never reach under a load.");
    hf_say("\n%s", keys_line);
    hf_status status = find_part(&d);
    while (status == HF_OK && step == STEP_PART) {
        status = pull_part(&d, &step);
        if (status != HF_OK || step != STEP_PART) break;
        pulled++;
        status = find_part(&d);
    }
    request->error.status = status;
    hf_say("%zu part%s pulled\n", pulled, pulled == 1 ? "" : "s");
    if (status == HF_NO_RESULT && pulled) {
        hf_say("nothing is left to pull; next: holdfast assess %s\n", d.path);
        return HF_EXIT_DONE;
    }
    if (status != HF_OK) return hf_request_fail(request);
    hf_say("to go on here: holdfast day %s\n", d.path);
    return HF_EXIT_DONE;
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file with a plan; it is changed in place"},
    {.name = NULL}};

static const hf_option_group groups[] = {
    {own_rows, 0}, {hf_help_rows, offsetof(day_options, help)}, {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast day sail.json --by Kim", "takes you through the parts of the plan, rung by rung"},
    {NULL, NULL}};

const hf_command hf_command_day = {
    .name = "day",
    .summary = "go through test day at the rig, rung by rung",
    .arguments = arguments,
    .description = "Takes the parts of the plan in their order and each up its ladder: what to put on and "
                   "take off, the force on the part, a "
                   "countdown of the dwell with a bell at its end. One key and Enter say what happened. "
                   "Lines only, no colours and no moving "
                   "screen, so that it works over any connection and with a screen reader.\n\n"
                   "Every key is on the disk before the next, in the journal beside the file: a day that is "
                   "cut off goes on at the same rung when the "
                   "command is given again. A part is written into the file as record would, with date, "
                   "duration and, with --by, who pulled it. "
                   "u goes a rung back; holdfast undo takes a whole part back. No working load is told "
                   "before all is pulled: holdfast assess does.",
    .groups = groups,
    .options_size = sizeof(day_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
