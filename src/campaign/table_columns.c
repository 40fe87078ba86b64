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

/* "held [kg]" or "held (kg)" → "held" and the unit; a column without brackets is left as it is. */
static void split_unit(hf_table *table, const hf_cell *cell, hf_column *column) {
    hf_arena *arena = table->reader.arena;
    const char *open = strpbrk(cell->text, "[("),
               *close = open ? strchr(open, *open == '[' ? ']' : ')') : NULL;
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
        hf_table_error(
            table, cell->line, cell->column, name,
            "found unknown column \"%.60s\", expected \"%s\"? --columns says what another name means", name,
            nearest);
    else
        hf_table_error(
            table, cell->line, cell->column, name,
            "found unknown column \"%.60s\", expected one of %s, info.NAME; --columns says what another name "
            "means",
            name, list.bytes ? list.bytes : "");
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

/* --- Names that are said ----------------------------------------------------------------------------- */

typedef struct text_part {
    const char *start;
    size_t length;
} text_part;

static text_part trimmed(const char *start, const char *end) {
    while (start < end && is_blank(*start)) start++;
    while (end > start && is_blank(end[-1])) end--;
    return (text_part){start, (size_t)(end - start)};
}

/* The next "name=key" of the list; the name ends at the last = of the item. False past the last; a name without = has no key.start. */
static bool next_said(const char **at, text_part *name, text_part *key) {
    if (!**at) return false;
    const char *end = *at + strcspn(*at, ",;"), *equals = end;
    while (equals > *at && *equals != '=') equals--;
    bool paired = *equals == '=';
    *name = trimmed(*at, paired ? equals : end);
    *key = paired ? trimmed(equals + 1, end) : (text_part){NULL, 0};
    *at = *end ? end + 1 : end;
    return true;
}

/* The unit in the brackets at the end of a name, with them; "" when there is none. */
static const char *unit_behind(const char *text) {
    const char *open = strrchr(text, '[') ? strrchr(text, '[') : strrchr(text, '(');
    size_t length = open ? strlen(open) : 0;
    return length > 2 && strchr("])", open[length - 1]) && hf_unit_find(open + 1, length - 2) ? open : "";
}

/* The cell of the header by its key, with the unit that stands behind its own name; "" for a column that is not to be read. */
static void rename_cell(hf_table *table, hf_cell *cell) {
    const char *at = table->source->columns;
    text_part name, key;
    while (at && next_said(&at, &name, &key)) {
        if (!key.start || name.length != strlen(cell->text) ||
            strncmp(cell->text, name.start, name.length) != 0)
            continue;
        bool has_unit = memchr(key.start, '[', key.length) || memchr(key.start, '(', key.length);
        const char *unit = has_unit || !key.length ? "" : unit_behind(cell->text);
        cell->text = hf_arena_format(table->reader.arena, "%.*s%s", (int)key.length, key.start, unit);
        if (!cell->text) table->reader.out_of_memory = true;
        return;
    }
}

/* Every name that is said stands in the header. */
static void check_said(hf_table *table, const hf_row *header) {
    const char *at = table->source->columns, **names = NULL;
    text_part name, key;
    names = HF_ARENA_NEW_ARRAY(table->reader.arena, const char *, header->count);
    for (size_t i = 0; names && i < header->count; i++) names[i] = header->cells[i].text;
    while (at && next_said(&at, &name, &key)) {
        bool found = false;
        for (size_t i = 0; names && i < header->count; i++)
            found |= name.length == strlen(names[i]) && strncmp(names[i], name.start, name.length) == 0;
        const char *said = hf_arena_text(table->reader.arena, name.start, name.length);
        if (!names || !said) {
            table->reader.out_of_memory = true;
            return;
        }
        const char *nearest = found ? NULL : hf_text_nearest(said, names, header->count);
        if (!key.start)
            hf_table_error(table, header->line, 1, "",
                           "found \"%.60s\" in --columns, expected NAME=KEY such as \"Part=id\"", said);
        else if (!found)
            hf_table_error(table, header->line, 1, "",
                           "found no column \"%.60s\", which --columns names%s%.60s%s", said,
                           nearest ? "; nearest is \"" : "", nearest ? nearest : "", nearest ? "\"" : "");
    }
}

void hf_table_header(hf_table *table, const hf_row *header) {
    if (table->source->columns) check_said(table, header);
    if (!table->source->columns && !is_header(header)) {
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
    for (size_t i = 0; i < header->count; i++) {
        hf_cell cell = header->cells[i];
        rename_cell(table, &cell);
        if (cell.text && (cell.text[0] || !header->cells[i].text[0]))
            read_column(table, &cell, &table->columns[i]);
    }
    check_twice(table);
    table->header_wrong = table->reader.findings->errors > 0;
}
