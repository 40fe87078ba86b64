/* Reading JSON objects by tables: one row per key. */
#ifndef HF_CAMPAIGN_READER_H
#define HF_CAMPAIGN_READER_H

#include <stddef.h>
#include "holdfast/campaign/campaign.h"

typedef struct hf_reader {
    hf_arena *arena;
    hf_findings *findings;
    const hf_unit *unit;
    double gravity;
    const char **design_ids; /* ascending; what other parts may name */
    size_t design_id_count;
    int version; /* of the file's format */
    bool out_of_memory;
} hf_reader;

/* What a key holds and where it goes. */
typedef enum hf_key_kind {
    HF_KEY_TEXT,   /* const char * */
    HF_KEY_ID,     /* const char *, not empty */
    HF_KEY_DATE,   /* const char *, a real calendar date */
    HF_KEY_LOAD,   /* hf_maybe, newtons, ≥ 0; low > 0: must be above 0 */
    HF_KEY_NUMBER, /* hf_maybe */
    HF_KEY_WHOLE,  /* hf_maybe, a whole number */
    HF_KEY_FLAG,   /* bool */
    HF_KEY_CHOICE, /* int, index into choices + 1 (0: not given) */
    HF_KEY_INFO,   /* hf_info */
    HF_KEY_NODE,   /* const hf_json *, any kind, read by its own code */
    HF_KEY_LIST,   /* const hf_json *, an array */
    HF_KEY_OBJECT  /* const hf_json *, an object */
} hf_key_kind;

typedef struct hf_key {
    const char *name;
    hf_key_kind kind;
    size_t offset;
    bool required;
    double low, high;                    /* of numbers: allowed range; both 0: any */
    bool open_low, open_high;            /* ends excluded */
    const char *const *choices;          /* NULL-terminated */
    const char *(*choice_at)(size_t at); /* instead of choices; NULL from the last on */
    int since;                           /* format that brought it; 0: the first */
} hf_key;

/* Reads every member of `node` (an object) into `into` by the rows; unknown, ill-typed, out-of-range and missing keys become
 * findings. Returns false when node is no object. */
bool hf_read_object(hf_reader *reader, const hf_json *node, const hf_key *keys, size_t count, void *into);

/* A finding at a node's value. */
#if defined(__GNUC__)
__attribute__((format(printf, 3, 4)))
#endif
void hf_reader_error(hf_reader *reader, const hf_json *node, const char *format, ...);

enum { HF_SHOWN_SIZE = 96 };

/* A value as it stands in a message: a long text is cut. Returns out. */
const char *hf_reader_shown(const hf_json *node, char out[HF_SHOWN_SIZE]);

/* The finding "found <the node's value>, expected <expected>". Always false. */
bool hf_reader_wrong(hf_reader *reader, const hf_json *node, const char *expected);

/* A finding of any kind. path NULL: the node's. */
void hf_reader_find(hf_reader *reader, hf_finding finding, const hf_json *node);

/* Loads, masses hung up and lever ratios beyond these are slips of the pen; up to them every force is finite. */
#define HF_LOAD_LIMIT 1e12 /* N */
#define HF_ADVANTAGE_LIMIT 1e6

/* One load value (number or text) as newtons. */
bool hf_read_load(hf_reader *reader, const hf_json *node, double *newtons, hf_load *as_written);

#define HF_COUNT_OF(array) (sizeof(array) / sizeof *(array))

#endif
