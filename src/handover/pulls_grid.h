/* The pulls of one design as a table before it is worded: what each column says, and how a column is best shown. */
#ifndef HF_HANDOVER_PULLS_GRID_H
#define HF_HANDOVER_PULLS_GRID_H

#include "holdfast/campaign/campaign.h"
#include "words/words.h"

/* The columns, in the order they are read: when and of what, what was recorded, what it means. */
enum {
    HF_PULLS_DATE,
    HF_PULLS_ORDER,
    HF_PULLS_BATCH,
    HF_PULLS_HELD,
    HF_PULLS_FAILED,
    HF_PULLS_PEAK,
    HF_PULLS_FORCE,
    HF_PULLS_OUTCOME,
    HF_PULLS_MODE,
    HF_PULLS_SET,
    HF_PULLS_TIME,
    HF_PULLS_TARE,
    HF_PULLS_ENDS,
    HF_PULLS_NOTE,
    HF_PULLS_COLUMNS
};

/* How a column of a design is shown. */
typedef enum hf_showing {
    HF_SHOWN,
    HF_NOT_STATED,
    HF_ALL_ALIKE,
    HF_AS_RECORDED /* force on the part, where it is the load recorded of every pull */
} hf_showing;

typedef struct hf_pulls_grid {
    const hf_design *design;
    const char *(*cells)[HF_PULLS_COLUMNS]; /* of each part; NULL: not stated */
    hf_showing how[HF_PULLS_COLUMNS];
    const hf_unit
        *unit[HF_PULLS_COLUMNS];   /* of a column of loads that all have one, which then stands in its head */
    bool cut;                      /* some text is longer than its cell */
    bool dash;                     /* some cell that is shown has nothing to say */
    bool mass;                     /* some load is a mass */
    bool forces, intervals, above; /* there are forces; some have two ends; some only a lower one */
} hf_pulls_grid;

/* Texts live in the arena of the document; false: out of memory. A design without parts gives an empty grid. */
bool hf_pulls_grid_fill(hf_document *document, const hf_campaign *campaign, const hf_design *design,
                        hf_pulls_grid *out);

/* Columns of text that a cell has room for: the last column holds sentences, the others names and numbers. */
size_t hf_pulls_room(size_t column);

#endif
