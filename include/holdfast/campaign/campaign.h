/* The campaign file as it is in memory.
 *
 * One file lives through the whole job: guess and goal go in before the test, what held and what failed
 * on test day, and everything is computed from it afterwards. In memory every load is a force on the part
 * in newtons; what was written (text, place in the file) is kept beside it so that messages and edits can
 * point at it. All texts and arrays live in the arena given to hf_campaign_read. */
#ifndef HOLDFAST_CAMPAIGN_CAMPAIGN_H
#define HOLDFAST_CAMPAIGN_CAMPAIGN_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/base/json.h"
#include "holdfast/load/interval.h"
#include "holdfast/load/rig.h"
#include "holdfast/load/unit.h"
#include "holdfast/campaign/warning.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/scatter_library.h"
#include "holdfast/strength/stated_scatter.h"

/* A load that may be absent. */
typedef struct hf_maybe {
    bool given;
    double value; /* N where it is a load, else as named */
} hf_maybe;

typedef struct hf_info_pair {
    const char *key, *value;
} hf_info_pair;

typedef struct hf_info {
    const hf_info_pair *pairs;
    size_t count;
} hf_info;

typedef enum hf_outcome {
    HF_OUTCOME_FAILED,
    HF_OUTCOME_HELD, /* run-out */
    HF_OUTCOME_RIG,  /* rig, grip or fixture let go */
    HF_OUTCOME_VOID,
    HF_OUTCOME_PLANNED
} hf_outcome;

typedef enum hf_phase { HF_PHASE_NOT_STATED, HF_PHASE_ADDING, HF_PHASE_DWELL } hf_phase;
typedef enum hf_broke { HF_BROKE_NOT_STATED, HF_BROKE_FIRST, HF_BROKE_SECOND, HF_BROKE_BOTH } hf_broke;

/* What the strength of one pull is known to be, as force on the part in newtons. */
typedef struct hf_pull {
    hf_interval_kind kind;
    double lower, upper; /* N on the part */
    bool dropped; /* the failing step was dropped on: for the fit the upper end is lower + 2(upper − lower) */
    bool stepped; /* from held/failed rather than from a continuous reading */
} hf_pull;

typedef struct hf_specimen {
    const char *id, *batch, *mode, *date, *note; /* NULL when not stated */
    hf_maybe order;
    hf_maybe held, failed, peak; /* as recorded, N, before the rig's force rule */
    hf_maybe set_held, set_seen; /* as recorded, N */
    hf_maybe tare;               /* own tare, N on the part */
    hf_maybe duration_s;
    hf_outcome outcome;
    hf_phase phase;
    bool dropped, reused;
    const char *ends[2]; /* ids of designs, NULL when not two-ended */
    hf_broke broke;
    hf_info info;
    hf_pull pull;   /* the break event, as force on the part */
    hf_pull voided; /* of a void part: what its loads would have said; HF_INTERVAL_NONE without loads */
    hf_pull set;    /* the set event; HF_INTERVAL_NONE when it was not watched */
    const hf_json *node;
} hf_specimen;

/* At which numbers of parts a bound will be taken, stated before the pulls: holdfast/strength/looks.h says what that is for. */
typedef struct hf_stated_looks {
    bool given;
    const size_t *parts; /* rising */
    size_t count;
    size_t first, last, every; /* as stated; every 0: a list */
    double early;              /* confidence of every look but the last; 0: all alike */
} hf_stated_looks;

/* The goal; every field has its default from the schema filled in, `*_given` tells what was written. */
typedef struct hf_goal {
    double content;    /* default 0.90 */
    double confidence; /* default 0.95 */
    bool content_given, confidence_given;
    hf_maybe design_factor, set_factor; /* ≥ 1; not stated: no working load by that factor */
    hf_maybe service_load;              /* N */
    hf_maybe required_bound;            /* N */
    struct hf_use_factor {              /* optional factors stated by the user with a reason */
        const char *reason;
        double factor;
    } const *use_factors;
    size_t use_factor_count;
    hf_stated_looks looks;
    bool choose_best; /* one of the designs of which the best is picked by this test */
} hf_goal;

typedef struct hf_stated_guess {
    hf_maybe mean; /* N */
    hf_maybe cv;   /* share */
} hf_stated_guess;

/* The scatter of one earlier design of the kind. */
typedef struct hf_past_design {
    const char *source;
    double cv;                 /* share of the mean */
    double degrees_of_freedom; /* parts less one */
    double step;               /* of its ladder, as a difference of ln load; 0: exact readings */
    double s;                  /* of ln load, √(s(cv)² + step²/8) */
} hf_past_design;

/* Scatter known from elsewhere: stated as such, or by the earlier designs it comes from. */
typedef struct hf_scatter {
    bool given;
    double cv;                 /* share of the mean; of earlier designs that of all together */
    double degrees_of_freedom; /* INFINITY when assumed; of several earlier designs ν₀ */
    const char *source;
    const hf_past_design *past; /* NULL: not stated by designs */
    size_t past_count;
    hf_scatter_library library; /* of two or more; designs 0 otherwise */
    hf_past_scatter pooled;     /* of `past`; degrees 0 without */
} hf_scatter;

/* As the bounds take it. */
hf_stated_scatter hf_scatter_stated(const hf_scatter *scatter);

/* Scatter from batch to batch known from elsewhere, where a design's own parts are of one batch. */
typedef struct hf_between {
    bool given;
    double cv; /* standard deviation between batches as a share of the mean, above 0 */
    const char *source;
} hf_between;

typedef struct hf_design {
    const char *id, *name;
    const char *kind;          /* designs of one kind scatter alike, so the person says; NULL: not stated */
    const hf_family *family;   /* NULL: not stated, or "auto" */
    const char *family_reason; /* may be NULL */
    hf_goal goal;              /* the campaign's, overridden where the design says so */
    hf_stated_guess guess;     /* likewise */
    hf_scatter scatter;
    hf_between between_batches;
    const hf_specimen *specimens;
    size_t specimen_count;
    size_t *late; /* [HF_LATE_KINDS]: late.h; filled by hf_campaign_read alone */
    hf_info info;
    const hf_json *node;
} hf_design;

typedef struct hf_weight {
    double newtons; /* force of one */
    double value;   /* as written, in `unit` */
    const hf_unit *unit;
    size_t count;
} hf_weight;

typedef struct hf_rig {
    const char *id;
    hf_rig_force force;
    bool tare_given;
    hf_maybe rating, resolution; /* N */
    hf_maybe dwell_s;
    const char *calibration;
    const hf_uncertainty *uncertainty;
    size_t uncertainty_count;
    hf_info info;
} hf_rig;

typedef struct hf_head_to_head {
    const char *first, *second; /* design ids */
    hf_broke broke;
    const char *mode, *note;
} hf_head_to_head;

typedef struct hf_written_rung {
    double newtons;      /* recorded load of the rung, N */
    const char *weights; /* as written, may be NULL */
} hf_written_rung;

typedef struct hf_written_ladder {
    const char *design;
    const hf_written_rung *rungs;
    size_t count;
} hf_written_ladder;

typedef struct hf_plan_record {
    bool given;
    hf_maybe seed;
    const char *made;
    const hf_written_ladder *ladders;
    size_t count;
} hf_plan_record;

typedef struct hf_campaign {
    const char *file;  /* borrowed */
    int version;       /* of its format: holdfast-campaign/1 or /2 */
    const char *title; /* "" when absent */
    const hf_unit *unit;
    double gravity;
    bool gravity_given;
    hf_rig rig;
    const hf_weight *weights;
    size_t weight_count;
    hf_goal goal;
    hf_stated_guess guess;
    const hf_design *designs;
    size_t design_count;
    bool any_ends; /* some part has two ends, each a fitting of a design */
    const hf_head_to_head *head_to_head;
    size_t head_to_head_count;
    hf_plan_record plan;
    hf_info info;
    const char *text; /* the whole file */
    size_t text_length;
    char sha256[65];
    const hf_json *root;
} hf_campaign;

/* One thing found in a file. */
typedef enum hf_severity { HF_SEVERITY_ERROR, HF_SEVERITY_WARNING } hf_severity;

typedef struct hf_finding {
    hf_severity severity;
    const char
        *code; /* of warnings: the caution code ("above_rating", "no_uncertainty", …); errors: a code too */
    const char *message; /* what was found and what was expected, one line */
    const char *path;    /* JSON path, or the column's name in a table */
    size_t line, column;
    const char *design; /* id of the design concerned, or NULL for the whole file */
    hf_warning warning; /* of warnings */
    double number[3]; /* of warnings whose caution has values: those, in the order of its slots; loads in N */
} hf_finding;

typedef struct hf_findings {
    hf_finding *items;
    size_t count, errors, capacity;
} hf_findings;

enum { HF_CAMPAIGN_LIMIT_BYTES = 64 * 1024 * 1024, HF_CAMPAIGN_LIMIT_PULLS = 1000000 };

/* Reads and validates text[0..length) as a campaign. All findings are collected, in file order.
 * HF_OK: *out is complete (there may be warnings). HF_BAD_DATA: at least one error finding, *out is NULL.
 * HF_MEMORY otherwise. Everything lives in `arena`; `text` must outlive it. */
hf_status hf_campaign_parse(hf_arena *arena, const char *file, const char *text, size_t length,
                            const hf_campaign **out, hf_findings *findings);

/* Reads the file (or "-") and parses it. HF_FILE with words in *error when it cannot be read, HF_BAD_DATA with words in *error
 * and no finding when it is too long. */
hf_status hf_campaign_read(hf_arena *arena, const char *path, const hf_campaign **out, hf_findings *findings,
                           hf_error *error);

/* The design or specimen with this id, or NULL. */
const hf_design *hf_campaign_design(const hf_campaign *campaign, const char *id);
const hf_specimen *hf_campaign_specimen(const hf_campaign *campaign, const char *id,
                                        const hf_design **design);

/* The id that a person may have meant, or NULL. */
const char *hf_campaign_nearest_design(const hf_campaign *campaign, const char *id);

/* As hf_campaign_design, but NULL comes with HF_USAGE and words in *error. */
const hf_design *hf_campaign_find_design(const hf_campaign *campaign, const char *id, hf_error *error);

/* "file.json:12:7: error: designs[0].id: found …, expected …" appended to *out with a newline. */
void hf_finding_print(const hf_finding *finding, const char *file, hf_text *out);

/* --- Changing the file --------------------------------------------------------------------------- */

/* What can be written of a pull: HF_RECORD(member, "key", KIND, result), in the order in which new keys are written. KIND: a LOAD as a person
 * types it ("18 kg", "760"), which is written as typed when it carries a unit, else as a bare number; a NUMBER; a TEXT; a FLAG ("true" or
 * "false"); an END (1, 2 or both); INFO, a text in the object "info". result: it tells of the pull, not of the part, and goes when the part is planned again. */
#define HF_RECORD_LIST(HF_RECORD)                                                                            \
    HF_RECORD(held, "held", LOAD, true)                                                                      \
    HF_RECORD(failed, "failed", LOAD, true)                                                                  \
    HF_RECORD(peak, "peak", LOAD, true)                                                                      \
    HF_RECORD(set_held, "set_held", LOAD, true)                                                              \
    HF_RECORD(set_seen, "set_seen", LOAD, true)                                                              \
    HF_RECORD(outcome, "outcome", TEXT, true)                                                                \
    HF_RECORD(mode, "mode", TEXT, true)                                                                      \
    HF_RECORD(phase, "phase", TEXT, true)                                                                    \
    HF_RECORD(dropped, "dropped", FLAG, true)                                                                \
    HF_RECORD(broke, "broke", END, true)                                                                     \
    HF_RECORD(duration, "duration_s", NUMBER, true)                                                          \
    HF_RECORD(batch, "batch", TEXT, false)                                                                   \
    HF_RECORD(reused, "reused", FLAG, false)                                                                 \
    HF_RECORD(tare, "tare", LOAD, false)                                                                     \
    HF_RECORD(order, "order", NUMBER, false)                                                                 \
    HF_RECORD(date, "date", TEXT, true)                                                                      \
    HF_RECORD(note, "note", TEXT, true)                                                                      \
    HF_RECORD(by, "operator", INFO, true)                                                                    \
    HF_RECORD(photo, "photo", INFO, true)

/* One pull to be written into a specimen; NULL and empty fields are left alone. */
typedef struct hf_record_change {
#define HF_RECORD_MEMBER(member, key, kind, result) const char *member;
    HF_RECORD_LIST(HF_RECORD_MEMBER)
#undef HF_RECORD_MEMBER
    const char *without; /* a key of the list to be taken away; NULL: none */
} hf_record_change;

/* The campaign's text with `change` written into the specimen `id`, every other byte as it was, appended to *out.
 * The result is validated before it is returned. HF_BAD_DATA when no such specimen exists (nearest id named) or when the
 * result would not be a valid campaign (its findings in *findings). An outcome "planned" is replaced, by "failed" unless the change says
 * another. Refuses to overwrite a specimen that already has a result unless `again` is true; then what is not said anew stays, but for what
 * cannot stand beside it: held and failed beside a peak and the other way round, and beside the outcome held or rig how and at what it failed.
 * *out is untouched unless HF_OK. */
hf_status hf_campaign_record(hf_arena *arena, const hf_campaign *campaign, const char *id,
                             const hf_record_change *change, bool again, hf_text *out, hf_findings *findings,
                             hf_error *error);

/* The same where the result of `id` is taken away: it is planned again, or, with `to`, the whole result becomes that of the planned specimen
 * `to`, and the two change their places in the order. */
hf_status hf_campaign_record_clear(hf_arena *arena, const hf_campaign *campaign, const char *id,
                                   const char *to, hf_text *out, hf_findings *findings, hf_error *error);

/* The campaign's text with a planned specimen `id` at the end of `design`, appended to *out; last in the order where the file has one.
 * HF_BAD_DATA when the id is taken. */
hf_status hf_campaign_record_new(hf_arena *arena, const hf_campaign *campaign, const hf_design *design,
                                 const char *id, hf_text *out, hf_error *error);

/* What a change made of one field of a part: texts as they stand in the file, NULL: not stated. */
typedef struct hf_field_change {
    const char *part, *key, *was, *now;
} hf_field_change;

/* The fields in which the specimens differ, into *list in the arena; returns how many. */
size_t hf_record_differences(hf_arena *arena, const hf_campaign *before, const hf_specimen *was,
                             const hf_campaign *after, const hf_specimen *now, const hf_field_change **list);

/* What `new` asks for; every field may be NULL and then takes the default. Loads as texts with unit. */
typedef struct hf_campaign_start {
    const char *title, *unit, *records, *tare, *rating, *weights; /* weights: "6x10kg 2x5kg" */
    const char *design, *name, *mean, *cv;
    const char *content, *confidence, *design_factor, *service_load;
    size_t parts; /* planned specimens to write */
} hf_campaign_start;

/* A starter campaign with these answers, appended to *out; validated before return. */
hf_status hf_campaign_start_text(hf_arena *arena, const hf_campaign_start *start, hf_text *out,
                                 hf_error *error);

#endif
