/* The rows of the chart of pulls: which pulls stand in one row. */
#ifndef HF_CHART_CHART_PULLS_H
#define HF_CHART_CHART_PULLS_H

#include "chart/chart.h"

typedef enum hf_pulls_sharing {
    HF_PULLS_SINGLE,  /* each pull in its own row */
    HF_PULLS_ALIKE,   /* pulls alike share a row */
    HF_PULLS_SUMMARY, /* pulls next to each other share a row */
} hf_pulls_sharing;

typedef enum hf_pulls_state {
    HF_PULLS_FAILED,
    HF_PULLS_FIRST_LOAD,
    HF_PULLS_WHOLE,
    HF_PULLS_RIG
} hf_pulls_state;

typedef struct hf_pulls_item {
    const hf_specimen *specimen;
    hf_pulls_state state;
    size_t shape; /* of its way of failing; 0 when it did not fail */
} hf_pulls_item;

/* Pulls of one row: of one state and of one shape; weakest first. */
typedef struct hf_pulls_row {
    const hf_pulls_item *pulls;
    size_t count;
    double lower, upper; /* least load held and greatest that broke one; newtons */
} hf_pulls_row;

typedef struct hf_pulls_rows {
    hf_pulls_sharing sharing;
    hf_pulls_row *rows; /* weakest first */
    size_t count;
} hf_pulls_rows;

enum { HF_PULLS_NAMED_ROWS = 45 }; /* each with its name or number beside it */

hf_pulls_state hf_pulls_state_of(const hf_specimen *specimen);

/* `pulls` may be put into another order and must outlive the rows. `dots`: most pulls have no length, so that more rows stay apart. False when
 * memory fails. */
bool hf_pulls_arrange(hf_chart *chart, hf_pulls_item *pulls, size_t count, bool dots, hf_pulls_rows *out);

#endif
