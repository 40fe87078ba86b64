/* From the text of a cell to a value of the campaign file. */
#include <stdio.h>
#include <string.h>
#include "campaign/table.h"
#include "holdfast/base/number.h"

enum { LONGEST_NUMBER = 60 };

bool hf_table_guarded(const char *text) {
    while (*text == '\'') text++;
    return *text && strchr("=+-@\t\r\n", *text) != NULL;
}

static const char *quoted(hf_table *table, const char *text) {
    hf_text out = {0};
    hf_json_quote(&out, text);
    char *copy = out.bytes && !out.failed ? hf_arena_text(table->reader.arena, out.bytes, out.length) : NULL;
    hf_text_free(&out);
    if (!copy) table->reader.out_of_memory = true;
    return copy;
}

static const char *number_text(hf_table *table, double value) {
    char number[HF_NUMBER_SIZE];
    const char *text = hf_arena_format(table->reader.arena, "%s", hf_number_shortest(value, number));
    if (!text) table->reader.out_of_memory = true;
    return text;
}

/* "1,234" could be 1234 or 1.234: three digits behind a single mark. */
static bool is_ambiguous(const char *text, size_t length, char mark) {
    const char *at = memchr(text, mark, length);
    size_t behind = at ? length - (size_t)(at - text) - 1 : 0;
    return at && behind == 3 && strspn(at + 1, "0123456789") >= 3;
}

/* The mark that is not the decimal mark of this table stands in the number. */
static void wrong_mark(hf_table *table, const hf_column *column, const hf_cell *cell, size_t length) {
    bool comma = table->mark == ',';
    char wrong = comma ? '.' : ',';
    const char *right =
        comma ? table->separator == ';' ? "a decimal comma (semicolons part the cells)" : "a decimal comma"
              : "a decimal point";
    if (is_ambiguous(cell->text, length, wrong))
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found \"%.60s\", which may mean thousands or a decimal mark, expected %s and no mark "
                       "between thousands",
                       cell->text, right);
    else
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found \"%.60s\", expected %s and no mark between thousands", cell->text, right);
}

/* text[0..length) in the decimal mark of the table. False after a finding. */
static bool read_number(hf_table *table, const hf_column *column, const hf_cell *cell, size_t length,
                        double *value) {
    char copy[LONGEST_NUMBER + 1], *mark;
    char wrong = table->mark == ',' ? '.' : ',';
    if (length && length <= LONGEST_NUMBER && !memchr(cell->text, wrong, length)) {
        memcpy(copy, cell->text, length);
        copy[length] = '\0';
        if (wrong == '.' && (mark = strchr(copy, ',')) != NULL) *mark = '.';
        if (hf_number_read(copy, length, value)) return true;
    } else if (length && length <= LONGEST_NUMBER) {
        wrong_mark(table, column, cell, length);
        return false;
    }
    hf_table_error(table, cell->line, cell->column, column->name,
                   table->list ? "found \"%.60s\", expected plain numbers parted by white space, or a table "
                                 "that begins with a header"
                   : column->kind == HF_COLUMN_LOAD
                       ? "found \"%.60s\", expected a load: a number, or one with its unit such as 18 kg"
                       : "found \"%.60s\", expected a number",
                   cell->text);
    return false;
}

static const hf_unit *cell_unit(hf_table *table, hf_column *column, const hf_cell *cell, const char *name) {
    const hf_unit *unit = *name          ? hf_unit_find(name, strlen(name))
                          : column->unit ? column->unit
                                         : table->source->unit;
    hf_error error;
    hf_load load;
    if (unit) return unit;
    const char *one = hf_arena_format(table->reader.arena, "1 %.40s", name);
    if (*name && one && hf_load_read(one, strlen(one), NULL, &load, &error) != HF_OK)
        hf_table_error(table, cell->line, cell->column, column->name, "%s", error.message);
    else if (!column->unit_missed) {
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found \"%.60s\" without a unit, expected it in the header such as %s [kg], in the "
                       "cell, or stated for the whole table",
                       cell->text, column->name);
        column->unit_missed = true;
    }
    return NULL;
}

/* In the file's own unit a bare number, else a text with the unit. */
static const char *load_value(hf_table *table, hf_column *column, const hf_cell *cell) {
    size_t end = strspn(cell->text, "+-.,0123456789"), unit_at;
    double value;
    if (end && (cell->text[end] == 'e' || cell->text[end] == 'E')) {
        size_t sign = cell->text[end + 1] == '-' || cell->text[end + 1] == '+',
               digits = strspn(cell->text + end + 1 + sign, "0123456789");
        if (digits) end += 1 + sign + digits;
    }
    if (!read_number(table, column, cell, end, &value)) return NULL;
    for (unit_at = end; cell->text[unit_at] == ' ' || cell->text[unit_at] == '\t';) unit_at++;
    if (strpbrk(cell->text + unit_at, "0123456789")) { /* 1'234, 1 234 */
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found \"%.60s\", expected a number without marks between thousands, and its unit",
                       cell->text);
        return NULL;
    }
    const hf_unit *unit = cell_unit(table, column, cell, cell->text + unit_at);
    if (!unit) return NULL;
    const char *number = number_text(table, value);
    if (unit == table->campaign->unit || !number) return number;
    const char *text = hf_arena_format(table->reader.arena, "\"%s %s\"", number, unit->name);
    if (!text) table->reader.out_of_memory = true;
    return text;
}

static bool same_word(const char *text, const char *word) {
    for (; *text && *word; text++, word++)
        if ((*text >= 'A' && *text <= 'Z' ? *text - 'A' + 'a' : *text) != *word) return false;
    return *text == *word;
}

static const char *flag_value(hf_table *table, const hf_column *column, const hf_cell *cell) {
    if (same_word(cell->text, "true") || same_word(cell->text, "yes")) return "true";
    if (same_word(cell->text, "false") || same_word(cell->text, "no")) return "false";
    hf_table_error(table, cell->line, cell->column, column->name,
                   "found \"%.60s\", expected true, false, yes or no", cell->text);
    return NULL;
}

/* "ring | eyelet" */
static const char *ends_value(hf_table *table, const hf_column *column, const hf_cell *cell) {
    hf_arena *arena = table->reader.arena;
    const char *bar = strchr(cell->text, '|');
    if (!bar || strchr(bar + 1, '|')) {
        hf_table_error(table, cell->line, cell->column, column->name,
                       "found \"%.60s\", expected the ids of two designs parted by | such as ring | eyelet",
                       cell->text);
        return NULL;
    }
    size_t first = (size_t)(bar - cell->text);
    while (first && cell->text[first - 1] == ' ') first--;
    bar++;
    while (*bar == ' ') bar++;
    const char *name = hf_arena_text(arena, cell->text, first);
    const char *one = name ? quoted(table, name) : NULL, *two = quoted(table, bar);
    const char *list = one && two ? hf_arena_format(arena, "[%s, %s]", one, two) : NULL;
    if (!list) table->reader.out_of_memory = true;
    return list;
}

const char *hf_table_value(hf_table *table, hf_column *column, const hf_cell *cell) {
    const char *text = cell->text + (cell->text[0] == '\'' && hf_table_guarded(cell->text));
    hf_cell plain = {text, cell->line, cell->column};
    double value;
    switch (column->kind) {
    case HF_COLUMN_LOAD:
        return load_value(table, column, cell);
    case HF_COLUMN_NUMBER:
        return read_number(table, column, cell, strlen(cell->text), &value) ? number_text(table, value)
                                                                            : NULL;
    case HF_COLUMN_FLAG:
        return flag_value(table, column, cell);
    case HF_COLUMN_ENDS:
        return ends_value(table, column, &plain);
    case HF_COLUMN_BROKE:
        return strcmp(text, "1") == 0 || strcmp(text, "2") == 0 ? text : quoted(table, text);
    case HF_COLUMN_TEXT:
    case HF_COLUMN_DESIGN:
    case HF_COLUMN_INFO:
        break;
    }
    return quoted(table, text);
}
