/* The columns of a table: the keys of a specimen, `design`, and `info.<key>`. */
#include <string.h>
#include "campaign/table.h"

typedef struct column_row {
    const char *name;
    hf_column_kind kind;
} column_row;

/* In the order they are written. */
static const column_row columns[] = {
    {"design", HF_COLUMN_DESIGN}, {"id", HF_COLUMN_TEXT},           {"batch", HF_COLUMN_TEXT},
    {"order", HF_COLUMN_NUMBER},  {"date", HF_COLUMN_TEXT},         {"held", HF_COLUMN_LOAD},
    {"failed", HF_COLUMN_LOAD},   {"peak", HF_COLUMN_LOAD},         {"outcome", HF_COLUMN_TEXT},
    {"mode", HF_COLUMN_TEXT},     {"phase", HF_COLUMN_TEXT},        {"set_held", HF_COLUMN_LOAD},
    {"set_seen", HF_COLUMN_LOAD}, {"duration_s", HF_COLUMN_NUMBER}, {"dropped", HF_COLUMN_FLAG},
    {"reused", HF_COLUMN_FLAG},   {"tare", HF_COLUMN_LOAD},         {"ends", HF_COLUMN_ENDS},
    {"broke", HF_COLUMN_BROKE},   {"note", HF_COLUMN_TEXT},
};

const char *hf_table_column(size_t at, hf_column_kind *kind) {
    if (at >= HF_COUNT_OF(columns)) return NULL;
    *kind = columns[at].kind;
    return columns[at].name;
}

static bool is_blank(char c) {
    return c == ' ' || c == '\t';
}

/* "held [kg]" → "held" and the unit; a column without brackets is left as it is. */
static void split_unit(hf_table *table, const hf_cell *cell, hf_column *column) {
    hf_arena *arena = table->reader.arena;
    const char *open = strchr(cell->text, '['), *close = open ? strchr(open, ']') : NULL;
    column->name = cell->text;
    if (!open) return;
    size_t end = (size_t)(open - cell->text);
    while (end > 0 && is_blank(cell->text[end - 1])) end--;
    column->name = hf_arena_text(arena, cell->text, end);
    if (!column->name) return;
    if (!close || close[1] != '\0') {
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found \"%.60s\", expected a name and a unit in brackets such as held [kg]",
                       cell->text);
        column->unit_missed = true;
        return;
    }
    open++;
    while (is_blank(*open)) open++;
    while (close > open && is_blank(close[-1])) close--;
    size_t length = (size_t)(close - open);
    column->unit = hf_unit_find(open, length);
    if (column->unit) return;
    column->unit_missed = true;
    hf_error error;
    hf_load load;
    const char *one = hf_arena_format(arena, "1 %.*s", (int)(length < 40 ? length : 40), open);
    if (one && length && hf_load_read(one, strlen(one), NULL, &load, &error) != HF_OK)
        hf_table_error(table, cell->line, cell->column, column->name, "%s", error.message);
    else
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found no unit in the brackets, expected one such as held [kg]");
}

static void unknown_column(hf_table *table, const hf_cell *cell, const char *name) {
    const char *names[HF_COUNT_OF(columns)];
    hf_text list = {0};
    for (size_t i = 0; i < HF_COUNT_OF(columns); i++) {
        names[i] = columns[i].name;
        hf_text_addf(&list, "%s%s", i ? ", " : "", names[i]);
    }
    const char *nearest = hf_text_nearest(name, names, HF_COUNT_OF(columns));
    if (!name[0])
        hf_table_error(table, cell->line, cell->column, "", "found a column without a name, expected one");
    else if (nearest)
        hf_table_error(table, cell->line, cell->column, name,
                       "found unknown column \"%.60s\", expected \"%s\"?", name, nearest);
    else
        hf_table_error(table, cell->line, cell->column, name,
                       "found unknown column \"%.60s\", expected one of %s, info.NAME", name,
                       list.bytes ? list.bytes : "");
    hf_text_free(&list);
}

/* A first line in which no name is known is no header. */
static bool is_header(const hf_row *header) {
    for (size_t i = 0; i < header->count; i++) {
        const char *text = header->cells[i].text;
        if (strncmp(text, "info.", 5) == 0) return true;
        for (size_t k = 0; k < HF_COUNT_OF(columns); k++)
            if (hf_text_nearest(text, &columns[k].name, 1) ||
                strncmp(text, columns[k].name, strlen(columns[k].name)) == 0)
                return true;
    }
    return false;
}

static bool is_fixed(hf_column *column) {
    for (size_t i = 0; i < HF_COUNT_OF(columns); i++) {
        if (strcmp(columns[i].name, column->name) != 0) continue;
        column->kind = columns[i].kind;
        return true;
    }
    return false;
}

/* Name NULL: the column is not read. */
static void read_column(hf_table *table, const hf_cell *cell, hf_column *column) {
    *column = (hf_column){.line = cell->line, .place = cell->column};
    if (strncmp(cell->text, "info.", 5) == 0) {
        column->name = cell->text;
        column->kind = HF_COLUMN_INFO;
        return;
    }
    split_unit(table, cell, column);
    if (!column->name) return;
    if (!is_fixed(column)) {
        unknown_column(table, cell, column->name);
        column->name = NULL;
    } else if (column->unit && column->kind != HF_COLUMN_LOAD) {
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found a unit, expected none: only loads have one");
    }
}

static void check_twice(hf_table *table) {
    for (size_t i = 1; i < table->column_count; i++)
        for (size_t j = 0; j < i; j++) {
            hf_column *again = &table->columns[i], *first = &table->columns[j];
            if (!again->name || !first->name || strcmp(again->name, first->name) != 0) continue;
            hf_table_error(table, again->line, again->place, again->name,
                           "found the column twice, expected it once");
            again->name = NULL;
        }
}

void hf_table_header(hf_table *table, const hf_row *header) {
    if (!is_header(header)) {
        hf_table_error(table, header->line, 1, "",
                       "found no name of a column, expected a header such as design, held [kg], failed [kg]");
        return;
    }
    table->columns = HF_ARENA_NEW_ARRAY(table->reader.arena, hf_column, header->count);
    if (!table->columns) {
        table->reader.out_of_memory = true;
        return;
    }
    table->column_count = header->count;
    for (size_t i = 0; i < header->count; i++) read_column(table, &header->cells[i], &table->columns[i]);
    check_twice(table);
    table->header_wrong = table->reader.findings->errors > 0;
}
