/* Results in words, tables and numbers for others.
 *
 * A kind of result says what is told, in reading order; a format says how it looks. Either is one record, and they meet in
 * hf_report_print. Reports compute nothing: whatever is printed stands in the result struct. */
#ifndef HOLDFAST_WORDS_REPORT_H
#define HOLDFAST_WORDS_REPORT_H

#include <stdbool.h>
#include "holdfast/base/text.h"
#include "holdfast/campaign/journal.h"
#include "holdfast/campaign/sanity.h"
#include "holdfast/document/format.h"
#include "holdfast/load/unit.h"
#include "holdfast/planning/coverage.h"
#include "holdfast/study/assess.h"
#include "holdfast/study/compare.h"
#include "holdfast/study/earlier.h"
#include "holdfast/study/plan.h"
#include "holdfast/study/standing.h"

/* How the pulls of each design are drawn in a line of text: at a terminal wide enough, in plain characters where that was asked for. */
typedef enum hf_strip_marks { HF_STRIP_NONE, HF_STRIP_BLOCKS, HF_STRIP_ASCII } hf_strip_marks;
enum { HF_STRIP_WIDTH = 60 }; /* columns from which there is room */

typedef struct hf_report_style {
    const hf_unit *unit; /* loads are shown in it */
    double gravity;
    size_t width; /* columns of a terminal, 80 when unknown */
    bool color;
    hf_strip_marks strip; /* in the short answers */
} hf_report_style;

/* One factor as `factor` prints it. */
typedef struct hf_factor_result {
    const hf_family *family;
    size_t n;
    double content, confidence, k, standard_error;
} hf_factor_result;

/* What `check` shows; and `record` and `import` of what they wrote. */
typedef struct hf_check_result {
    const hf_campaign *campaign;
    const hf_findings *findings; /* of the whole file */
    const hf_campaign
        *written; /* only the parts that were just written, and shown alone; NULL: all are shown */
    const hf_findings *fresh;       /* with `written`: what is odd since then, and shown alone; NULL: all */
    const hf_field_change *changes; /* what the change made of fields that were there */
    size_t change_count;
} hf_check_result;

/* What has to be answered before a pull is written. */
typedef struct hf_questions_result {
    const hf_doubt *doubts;
    size_t count;
} hf_questions_result;

/* What `set` changed, each key as it was and is. */
typedef struct hf_set_result {
    const hf_campaign *campaign;
    const hf_field_change *changes;
    size_t count;
} hf_set_result;

/* What `set` lists where nothing is to be set. */
typedef struct hf_setting_now {
    const char *name, *value, *takes; /* value NULL: not stated */
} hf_setting_now;

typedef struct hf_settings_result {
    const hf_campaign *campaign;
    const hf_setting_now *keys;
    size_t count;
} hf_settings_result;

/* One cell of true confidence. */
typedef struct hf_coverage_result {
    hf_coverage_cell cell; /* its confidence is the one each bound is taken at */
    double promised;       /* confidence */
    hf_coverage coverage;
    hf_coverage_counts counts; /* whole numbers behind it: those of shards add up to those of one run */
    size_t shard, shards;      /* shard 1 … shards of one study; shards 1: all of it */
    const char *setting;       /* all that a shard must have alike, one line */
} hf_coverage_result;

/* What `history` shows, and what `undo` did. */
typedef struct hf_history_result {
    const char *file, *sha256;
    const hf_journal *journal;
} hf_history_result;

typedef struct hf_undo_result {
    const hf_campaign *campaign; /* as it is now */
    const hf_entry *taken_back;
    const hf_entry *next; /* what would be taken back next; NULL: nothing */
    size_t passed;        /* changes behind it that were written down but never took effect */
    bool edited;          /* something else has changed the file since */
} hf_undo_result;

struct hf_record;

/* A kind of result is one record: its content in reading order, and the fields of its JSON. `result` is the struct named beside it
 * below. */
typedef struct hf_report_kind {
    const char *name; /* "assess": the "kind" of its JSON, whose "format" is "holdfast-result/2" */
    void (*document)(const void *result, struct hf_document *document);
    const struct hf_record *json; /* src/words/json_fields.h explains it */
} hf_report_kind;

extern const hf_report_kind hf_report_assess;        /* hf_assessment */
extern const hf_report_kind hf_report_assess_short;  /* the same at one look; JSON is the same */
extern const hf_report_kind hf_report_factor;        /* hf_factor_result */
extern const hf_report_kind hf_report_check;         /* hf_check_result */
extern const hf_report_kind hf_report_plan;          /* hf_plan */
extern const hf_report_kind hf_report_plan_strong;   /* hf_plan_strong */
extern const hf_report_kind hf_report_plan_next;     /* hf_plan_next */
extern const hf_report_kind hf_report_plan_contrast; /* hf_plan_contrast */
extern const hf_report_kind hf_report_plan_proof;    /* hf_plan_proof */
extern const hf_report_kind hf_report_coverage;      /* hf_coverage_result */
extern const hf_report_kind hf_report_scatter;       /* hf_earlier */
extern const hf_report_kind hf_report_compare;       /* hf_comparison */
extern const hf_report_kind hf_report_compare_short; /* the same at one look; JSON is the same */
extern const hf_report_kind hf_report_status;        /* hf_standing */
extern const hf_report_kind hf_report_status_next;   /* the next part of it alone; JSON is the same */
extern const hf_report_kind hf_report_sheet;         /* hf_sheet */
extern const hf_report_kind hf_report_set;           /* hf_set_result */
extern const hf_report_kind hf_report_settings;      /* hf_settings_result */
extern const hf_report_kind hf_report_questions;     /* hf_questions_result */
extern const hf_report_kind hf_report_history;       /* hf_history_result */
extern const hf_report_kind hf_report_undo;          /* hf_undo_result */

/* Appends the result in this format. */
void hf_report_print(const hf_report_kind *kind, const void *result, const hf_report_format *format,
                     const hf_report_style *style, hf_text *out);

/* The sentence of one caution in the unit of `style`, appended to *out (no newline): what it is and what to do. Names of the file stand
 * in it as they are. */
void hf_caution_say(const hf_caution *caution, const hf_report_style *style, hf_text *out);

/* Whether the code has either a sentence in its row or a function that says it, and not both. */
bool hf_caution_has_words(hf_caution_code code);

#endif
