/* Pulls in and out of a table.
 *
 * A table is comma separated text (RFC 4180: cells in quotes may hold separators, line breaks and doubled
 * quotes), one row a pull, one column a key of a specimen, and a column `design`. The unit of a load stands in
 * the header, `held [kg]`, or in the cell, `18 kg`. Lines that begin with # are comments; CRLF and a byte order
 * mark are read over. Where the separator is ; the decimal mark is the comma, else it is the point, and the other
 * mark is a mistake: whether 1,234 is a thousand or a little more than one is never guessed. A text of plain
 * numbers parted by white space is a list of peak readings; one that begins with { is another campaign, whose pulls come in. */
#ifndef HOLDFAST_CAMPAIGN_TABLE_H
#define HOLDFAST_CAMPAIGN_TABLE_H

#include <stddef.h>
#include "holdfast/campaign/campaign.h"

/* Where the pulls come from. */
typedef struct hf_table_source {
    const char *file; /* name for messages */
    const char *text; /* length bytes */
    size_t length;
    const char *design;  /* id of the design of rows that name none; NULL: every row must name its own */
    const hf_unit *unit; /* of loads without a unit in cell or header; NULL: each must have one */
    char
        mark; /* of decimals, '.' or ','; 0: the comma between semicolons, and between tabs where nothing else fits */
    const char *
        columns; /* "Part=id, Load (N)=peak, Remark=": what the header calls the columns, behind nothing those not to be read; NULL */
    bool add_designs; /* a design that the campaign does not have is added, else a mistake */
    bool in_order;    /* rows without id fill the planned parts of their design in the order of the plan */
    enum hf_table_take {
        HF_TAKE_NEITHER,
        HF_TAKE_THEIRS, /* the table's */
        HF_TAKE_OURS    /* the campaign's */
    } take;             /* of two different results of one part; NEITHER: that is a mistake */
    bool doubting;      /* pulls that do not look right (sanity.h) are mistakes */
} hf_table_source;

/* What an import found and did. */
typedef struct hf_table_result {
    hf_findings table;      /* in the table; path is the column's name */
    hf_findings campaign;   /* in the campaign file, such as a rig that the new pulls ask for */
    const char *const *ids; /* of the specimens that were added or filled, in the order of the rows */
    size_t count;
    size_t designs;    /* that were added */
    bool other_errors; /* from another campaign whose rig has other stated errors; this one's count now */
    size_t filled;     /* of them planned ones, or such whose result was replaced */
    size_t skipped;    /* rows that the campaign has already, and those whose result is left as it is there */
} hf_table_result;

/* The campaign's text with the pulls of the table added at the end of the specimens of their designs, every other byte as it
 * was, appended to *out. A planned part with the id of a row is filled; a pull that is there already (force to 1e-9, outcome and mode the same) is
 * left out; another result of a part that has one is a mistake unless `take` says which holds. Of another campaign come all pulls with a result, each with its rig's
 * tare where that is another, without their order among those; a rig with another lever, angle or gravity, or that records something else, is a mistake. A row without id gets "<design>-NN". Rows with mistakes are all listed, and then nothing is returned.
 * The new text is validated as a whole before it is returned. HF_BAD_DATA with findings in *result; HF_USAGE with words in
 * *error when a design or unit must be named (a list of plain numbers needs both) or is unknown; HF_MEMORY. *out is untouched
 * unless HF_OK. Everything in *result lives in `arena`. */
hf_status hf_campaign_import(hf_arena *arena, const hf_campaign *campaign, const hf_table_source *source,
                             hf_text *out, hf_table_result *result, hf_error *error);

/* How a table is written. */
typedef struct hf_table_style {
    const char *design;  /* only this design; NULL: all */
    const hf_unit *unit; /* every load converted to it (12 figures); NULL: as recorded */
    bool semicolon;      /* separator ; with decimal comma, else , with decimal point */
    bool
        to_import; /* only pulls with a result, without their order; where `tare` is set it stands in each that has none of its own */
    const hf_json *tare;
} hf_table_style;

/* All pulls of the campaign as such a table, appended to *out: comments that say what it is, the header, one row a specimen,
 * lines ended by CRLF. Read in again it gives the same observations. Text cells that a spreadsheet would take for a formula (they
 * begin with = + - @, a tab or a line break) are written in quotes behind an apostrophe, which the import takes away again.
 * HF_USAGE for an unknown design, HF_BAD_DATA for what a table cannot carry (a | in an id of `ends`); HF_MEMORY. *out is untouched
 * unless HF_OK. */
hf_status hf_campaign_export(hf_arena *arena, const hf_campaign *campaign, const hf_table_style *style,
                             hf_text *out, hf_error *error);

#endif
