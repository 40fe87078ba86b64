/* The steps from a table to pulls. */
#ifndef HF_CAMPAIGN_TABLE_H
#define HF_CAMPAIGN_TABLE_H

#include "campaign/reader.h"
#include "holdfast/campaign/table.h"

enum { HF_TABLE_COLUMNS = 200, HF_TABLE_FINDINGS = 1000 };

typedef struct hf_cell {
    const char *text; /* without quotes; blanks around an unquoted cell are taken off; "" when empty */
    size_t line, column;
} hf_cell;

typedef struct hf_row {
    const hf_cell *cells;
    size_t count, line;
} hf_row;

/* How the text of a cell becomes a value of the campaign file. */
typedef enum hf_column_kind {
    HF_COLUMN_TEXT,
    HF_COLUMN_LOAD,
    HF_COLUMN_NUMBER,
    HF_COLUMN_FLAG,
    HF_COLUMN_ENDS,
    HF_COLUMN_BROKE,
    HF_COLUMN_DESIGN,
    HF_COLUMN_INFO
} hf_column_kind;

typedef struct hf_column {
    const char *name; /* key of the specimen, "design", or "info.<key>" */
    hf_column_kind kind;
    const hf_unit *unit; /* from the header, NULL without one */
    bool unit_missed;    /* it was said already that the unit is missing or wrong */
    size_t line, place;
} hf_column;

typedef struct hf_table {
    hf_reader reader; /* arena, and findings in the table */
    const hf_table_source *source;
    const hf_campaign *campaign;
    char separator; /* ',', ';' or tab */
    char mark;      /* of decimals: '.' or ',' */
    bool list;      /* plain numbers: one column "peak" */
    hf_column *columns;
    size_t column_count;
    bool header_wrong; /* the rows cannot be judged as a whole */
    hf_row *rows;      /* without the header */
    size_t row_count;
} hf_table;

/* A finding at a cell; column "" for the row as a whole. */
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
void hf_table_error(hf_table *table, size_t line, size_t column, const char *name, const char *format, ...);

/* True once there are too many findings to go on. */
bool hf_table_enough(const hf_table *table);

/* Takes the text apart: header into `columns`, the other rows into `rows`. Blank rows are left out, as are rows with a wrong
 * number of cells, which become findings. */
void hf_table_scan(hf_table *table);

/* Another campaign as a table. */
typedef struct hf_campaign_table {
    const hf_campaign *campaign;
    hf_text text;        /* to be freed */
    const size_t *lines; /* of its file, in which each row stands */
    bool other_errors;   /* its rig has other stated errors */
} hf_campaign_table;

/* Reads the source as a campaign. HF_BAD_DATA with findings, or with words when its rig is another; HF_MEMORY. */
hf_status hf_table_of_campaign(hf_table *table, hf_campaign_table *out, hf_error *error);

/* The columns from the cells of the header. */
void hf_table_header(hf_table *table, const hf_row *header);

/* Kind and name of column `at` of the fixed ones, in the order they are written; NULL past the last. */
const char *hf_table_column(size_t at, hf_column_kind *kind);

/* The JSON value of a cell that is not empty, or NULL after a finding. */
const char *hf_table_value(hf_table *table, hf_column *column, const hf_cell *cell);

/* The apostrophe that keeps a spreadsheet from reading a text as a formula: text starts with any number of apostrophes and
 * then = + - @, tab or line break. */
bool hf_table_guarded(const char *text);

/* Text to put before a new member of an object or item of a list so that it stands as the one that starts at byte `start`: a
 * comma, and a blank or a line break with the same indent. NULL when memory has run out. */
const char *hf_separator_like(hf_arena *arena, const char *text, size_t start);

/* One edit that adds the items (JSON texts) to the specimens of a design. */
hf_status hf_specimens_edit(hf_arena *arena, const char *text, const hf_design *design,
                            const char *const *items, size_t count, hf_json_edit *edit);

#endif
