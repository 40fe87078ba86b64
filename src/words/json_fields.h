/* Results as JSON, by tables of fields.
 *
 * What stands in the JSON of a result is said once, as rows: the key, the kind of value, the member of the struct that holds it, and,
 * where it may be null, why. The rows of one object are a record, and rows that are objects or arrays name the record of theirs. One
 * function walks the tables and writes; the schema of results, docs/result.schema.json, is written from the same tables.
 *
 * To add a value: one row, in the place where it is to stand. With the struct defined as OF above the table
 *     HF_MEMBER(COUNT, "used", used)                        the member, never null
 *     HF_MAYBE(LOAD, "mean", mean_mid, "too_few")           null with this reason where it is not finite (or NULL)
 *     HF_FOUND(NUMBER, "value", find_value)                 what no member holds: a function finds it
 *     HF_FOUND_OR(TEXT, "family", find_family, "no_bound")  the same, and it may be null
 *     HF_OBJECT("batches", batch, &batch_record)            a struct that is a member
 *     HF_PART("risk", &risk_record)                         an object of its own for members of the same struct
 *     HF_INLINE(counts, &record)                            a member whose rows stand in this object
 *     HF_LIST("fits", fit_at, &fit_record)                  an array of objects: a function finds each
 * and .given says when a row stands there at all. Then the schema is made again by tests/report/results.py with
 * --update; DEVELOPERS.md has the line. */
#ifndef HF_WORDS_JSON_FIELDS_H
#define HF_WORDS_JSON_FIELDS_H

#include <math.h>
#include <stddef.h>
#include "words/json_report.h"

/* The kind of a value and, in brackets, the type of the member that holds it. */
typedef enum hf_field_kind {
    HF_FIELD_END,      /* closes the table */
    HF_FIELD_LOAD,     /* (double) newtons, written in the unit shown */
    HF_FIELD_LOCATION, /* (double) on the working scale of the record's law, likewise */
    HF_FIELD_SPREAD,   /* (double) likewise */
    HF_FIELD_NUMBER,   /* (double) as it is */
    HF_FIELD_COUNT,    /* (size_t) */
    HF_FIELD_BOOL,     /* (bool) */
    HF_FIELD_TEXT,     /* (const char *) */
    HF_FIELD_WORD,     /* (an enum) its word of `words` */
    HF_FIELD_REASON,   /* (const char *) the object's own `reason`, where it is not NULL */
    HF_FIELD_OBJECT,
    HF_FIELD_INLINE, /* rows that stand in the same object */
    HF_FIELD_ARRAY,
    HF_FIELD_CAUTIONS /* (hf_cautions) */
} hf_field_kind;

/* What the rows at hand speak of. */
typedef struct hf_place {
    const void *item;             /* the struct */
    const struct hf_place *outer; /* of the object around it; NULL for the result itself */
    size_t at;                    /* in its array, from 0 */
    const hf_report_style *style;
    hf_arena *arena;
} hf_place;

/* What a function found; the member of the kind. */
typedef struct hf_found {
    double number;
    size_t count;
    bool yes; /* one that may be null is null where `number` is NaN */
    const char *text;
    const void *item;   /* of an object */
    const char *reason; /* why it is null; NULL: what the row says, else the record */
} hf_found;

typedef struct hf_field {
    const char *key; /* NULL: the items of an array */
    hf_field_kind kind;
    size_t offset;
    bool nullable;
    const char *reason;
    hf_found (*find)(const hf_place *place); /* NULL: the member at `offset` */
    bool (*given)(const hf_place *place);    /* NULL: always */
    const char *const *words;                /* the words there are, in the order of the enum, then NULL */
    const struct hf_record *record;          /* of an object, or of each item of an array */
    const struct hf_field *each;             /* of an array without objects: the row of an item */
    const void *(*next)(const hf_place *place, size_t at); /* of an array: item `at`, NULL past the last */
} hf_field;

typedef struct hf_record {
    const char *name; /* in the schema; of a result, its kind */
    const hf_field *fields;
    bool (*there)(const hf_place *place);           /* false: every number that may be null is null */
    const char *(*why)(const hf_place *place);      /* why, where a row does not say */
    const hf_family *(*law)(const hf_place *place); /* of LOCATION and SPREAD; NULL there: null */
} hf_record;

#define HF_AT(of) .offset = offsetof(OF, of)
#define HF_MEMBER(k, name, of)                                                                               \
    { .key = (name), .kind = HF_FIELD_##k, HF_AT(of) }
#define HF_MAYBE(k, name, of, why)                                                                           \
    { .key = (name), .kind = HF_FIELD_##k, HF_AT(of), .nullable = true, .reason = (why) }
#define HF_FOUND(k, name, by)                                                                                \
    { .key = (name), .kind = HF_FIELD_##k, .find = (by) }
#define HF_FOUND_OR(k, name, by, why)                                                                        \
    { .key = (name), .kind = HF_FIELD_##k, .find = (by), .nullable = true, .reason = (why) }
#define HF_WORD(name, of, list)                                                                              \
    { .key = (name), .kind = HF_FIELD_WORD, HF_AT(of), .words = (list) }
#define HF_OBJECT(name, of, by)                                                                              \
    { .key = (name), .kind = HF_FIELD_OBJECT, HF_AT(of), .record = (by) }
#define HF_PART(name, by)                                                                                    \
    { .key = (name), .kind = HF_FIELD_OBJECT, .record = (by) }
#define HF_INLINE(of, by)                                                                                    \
    { .kind = HF_FIELD_INLINE, HF_AT(of), .record = (by) }
#define HF_LIST(name, by, of)                                                                                \
    { .key = (name), .kind = HF_FIELD_ARRAY, .next = (by), .record = (of) }
#define HF_FIELDS_END                                                                                        \
    { .kind = HF_FIELD_END }

/* For functions that find. */
hf_found hf_found_number(double number, const char *reason);
hf_found hf_found_count(size_t count);
hf_found hf_found_yes(bool yes);
hf_found hf_found_text(const char *text, const char *reason);
hf_found hf_found_item(const void *item);

/* What a row comes to: found, or read from its member. */
hf_found hf_field_find(const hf_field *field, const hf_record *record, const hf_place *place);

/* Words of hf_met, then NULL. */
extern const char *const hf_json_mets[];

/* Records that several results share. */
extern const hf_record hf_json_doubt;  /* hf_doubt */
extern const hf_record hf_json_answer; /* hf_answer, in hf_design_assessment */
extern const hf_record hf_json_plan_day, hf_json_plan_looks, hf_json_plan_batches; /* in hf_plan */
extern const hf_record hf_json_proof_plan;                                         /* hf_plan */
extern const hf_record hf_json_looks;       /* in hf_design_assessment */
extern const hf_record hf_json_file;        /* hf_campaign: name, fingerprint, title, unit */
extern const hf_record hf_json_counts;      /* hf_assess_counts */
extern const hf_record hf_json_ends;        /* hf_comparison_ends */
extern const hf_record hf_json_calibration; /* hf_plan_calibration */

/* The results, see report.h. */
extern const hf_record hf_json_assess, hf_json_compare, hf_json_plan;

/* The campaign of a result as a row finds it. */
#define HF_FILE(by)                                                                                          \
    { .kind = HF_FIELD_INLINE, .find = (by), .record = &hf_json_file }

#endif
