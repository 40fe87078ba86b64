/* From text to rows of cells (RFC 4180), with the place of every cell. */
#include <string.h>
#include "campaign/table.h"

typedef struct scanner {
    hf_table *table;
    const char *text;
    size_t length, at, line, column;
    hf_row *rows;
    size_t row_count, row_capacity;
    hf_cell cells[HF_TABLE_COLUMNS + 1];
} scanner;

/* Bytes of the UTF-8 character at `at`, 0 when it is none (RFC 3629). */
static size_t character(const char *text, size_t length, size_t at) {
    const unsigned char *s = (const unsigned char *)text + at;
    size_t left = length - at, bytes = s[0] < 0x80   ? 1
                                       : s[0] < 0xC2 ? 0
                                       : s[0] < 0xE0 ? 2
                                       : s[0] < 0xF0 ? 3
                                       : s[0] < 0xF5 ? 4
                                                     : 0;
    if (bytes > left) return 0;
    for (size_t i = 1; i < bytes; i++)
        if ((s[i] & 0xC0) != 0x80) return 0;
    bool overlong = (s[0] == 0xE0 && s[1] < 0xA0) || (s[0] == 0xF0 && s[1] < 0x90);
    bool outside = (s[0] == 0xED && s[1] > 0x9F) || (s[0] == 0xF4 && s[1] > 0x8F);
    return overlong || outside ? 0 : bytes;
}

static int peek(const scanner *s) {
    return s->at < s->length ? (unsigned char)s->text[s->at] : -1;
}

/* One byte on. A line ends with LF, CRLF or CR. */
static void step(scanner *s) {
    char c = s->text[s->at++];
    if (c == '\n' || (c == '\r' && peek(s) != '\n')) {
        s->line++;
        s->column = 1;
    } else if (((unsigned char)c & 0xC0) != 0x80 && c != '\r') {
        s->column++;
    }
}

static void error_here(scanner *s, const char *message) {
    hf_table_error(s->table, s->line, s->column, "", "%s", message);
}

/* The whole text is UTF-8 without zero bytes, or there is one finding. Leaves the scanner behind a byte order mark. */
static bool check_characters(scanner *s) {
    if (s->length >= 2 && (memcmp(s->text, "\xFF\xFE", 2) == 0 || memcmp(s->text, "\xFE\xFF", 2) == 0)) {
        error_here(s, "found UTF-16, expected UTF-8: save the table as CSV UTF-8");
        return false;
    }
    size_t start = s->length >= 3 && memcmp(s->text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    s->at = start;
    while (s->at < s->length) {
        size_t bytes = character(s->text, s->length, s->at);
        if (!bytes || s->text[s->at] == '\0') {
            error_here(s, bytes ? "found a zero byte, expected text"
                                : "found a byte that is no UTF-8, expected the table in UTF-8 (it looks like "
                                  "Windows-1252: save it as \"CSV UTF-8\")");
            return false;
        }
        while (bytes--) step(s);
    }
    s->at = start;
    s->line = s->column = 1;
    return true;
}

static bool ends_line(int c) {
    return c < 0 || c == '\n' || c == '\r';
}

static void next_line(scanner *s) {
    while (!ends_line(peek(s))) step(s);
    if (peek(s) == '\r') step(s);
    if (peek(s) == '\n') step(s);
}

/* Over lines that are empty, blank or comments. False at the end of the text. */
static bool next_content(scanner *s) {
    for (;;) {
        size_t at = s->at;
        while (at < s->length && (s->text[at] == ' ' || s->text[at] == '\t')) at++;
        if (at == s->length) return false;
        if (s->text[s->at] != '#' && !ends_line((unsigned char)s->text[at])) return true;
        next_line(s);
    }
}

/* "sep=;" in the first line is said to spreadsheets. False when it is not there. */
static bool said_separator(scanner *s) {
    const char *text = s->text + s->at;
    bool said = s->length - s->at > 5 && (memcmp(text, "sep=", 4) == 0 || memcmp(text, "SEP=", 4) == 0) &&
                strchr(",;\t", text[4]) && (s->length - s->at == 5 || ends_line((unsigned char)text[5]));
    if (!said) return false;
    s->table->separator = text[4];
    next_line(s);
    return true;
}

/* Tabs part cells with either mark: the comma where one stands in a number that can be nothing else (not behind it three digits, as in
 * 1,234), and no point does. */
static bool comma_between_tabs(const scanner *s) {
    bool comma = false;
    for (size_t at = s->at + 1; at + 1 < s->length; at++) {
        const char *text = s->text + at;
        bool inside = (*text == ',' || *text == '.') && text[-1] >= '0' && text[-1] <= '9' &&
                      text[1] >= '0' && text[1] <= '9';
        if (!inside) continue;
        if (*text == '.') return false;
        size_t digits = 0;
        while (at + 1 + digits < s->length && text[1 + digits] >= '0' && text[1 + digits] <= '9') digits++;
        comma |= digits != 3;
    }
    return comma;
}

static void find_mark(scanner *s) {
    char separator = s->table->separator;
    bool comma = separator == ';' || (separator == '\t' && comma_between_tabs(s));
    s->table->mark = s->table->source->mark ? s->table->source->mark : comma ? ',' : '.';
}

/* Which separator the header uses; more than one is not guessed. */
static bool find_separator(scanner *s) {
    static const char kinds[] = ",;\t";
    bool seen[3] = {false}, quoted = false;
    for (size_t at = s->at; at < s->length && (quoted || !ends_line((unsigned char)s->text[at])); at++) {
        const char *kind = s->text[at] ? strchr(kinds, s->text[at]) : NULL;
        if (s->text[at] == '"')
            quoted = !quoted;
        else if (kind && !quoted)
            seen[kind - kinds] = true;
    }
    if (seen[0] + seen[1] + seen[2] > 1) {
        error_here(s, "found more than one of comma, semicolon and tab between the names of the header, "
                      "expected one separator");
        return false;
    }
    s->table->separator = seen[1] ? ';' : seen[2] ? '\t' : ',';
    return true;
}

static void skip_blanks(scanner *s) {
    while (peek(s) == ' ' || (peek(s) == '\t' && s->table->separator != '\t')) step(s);
}

/* Inside quotes: doubled quotes are one. The text is only ever shorter than its source. */
static bool scan_quoted(scanner *s, hf_cell *cell) {
    step(s);
    size_t start = s->at, end = start, kept = 0;
    while (end < s->length && (s->text[end] != '"' || (end + 1 < s->length && s->text[end + 1] == '"')))
        end += s->text[end] == '"' ? 2 : 1;
    if (end >= s->length) {
        hf_table_error(s->table, cell->line, cell->column, "",
                       "found a quote that is never closed, expected a closing quote");
        s->at = s->length;
        return false;
    }
    char *text = hf_arena_text(s->table->reader.arena, s->text + start, end - start);
    while (s->at < end) {
        if (text) text[kept++] = s->text[s->at];
        if (s->text[s->at] == '"') step(s);
        step(s);
    }
    if (text) text[kept] = '\0';
    cell->text = text;
    step(s);
    skip_blanks(s);
    if (ends_line(peek(s)) || peek(s) == s->table->separator) return true;
    error_here(s, "found text behind the closing quote of a cell, expected a separator; a quote inside a "
                  "cell is written twice");
    return false;
}

static bool scan_plain(scanner *s, hf_cell *cell) {
    size_t start = s->at, end;
    while (!ends_line(peek(s)) && peek(s) != s->table->separator) {
        if (peek(s) == '"') {
            error_here(s, "found a quote inside a cell, expected the whole cell in quotes and the quote "
                          "inside written twice");
            return false;
        }
        step(s);
    }
    for (end = s->at; end > start && (s->text[end - 1] == ' ' || s->text[end - 1] == '\t');) end--;
    cell->text = end > start ? hf_arena_text(s->table->reader.arena, s->text + start, end - start) : "";
    return true;
}

/* The cells of one row. Cells past the most there may be are read and, when not empty, kept as one too many. */
static bool scan_row(scanner *s, size_t most, size_t *count) {
    *count = 0;
    for (;;) {
        skip_blanks(s);
        hf_cell cell = {.line = s->line, .column = s->column};
        if (!(peek(s) == '"' ? scan_quoted(s, &cell) : scan_plain(s, &cell))) return false;
        if (!cell.text) s->table->reader.out_of_memory = true;
        if (*count < most)
            s->cells[(*count)++] = cell;
        else if (*count == most && cell.text && cell.text[0])
            s->cells[(*count)++] = cell;
        if (ends_line(peek(s))) return true;
        step(s);
    }
}

static bool is_blank(const scanner *s, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (s->cells[i].text && s->cells[i].text[0]) return false;
    return true;
}

static void keep_row(scanner *s, size_t count, size_t line) {
    hf_arena *arena = s->table->reader.arena;
    if (s->row_count == s->row_capacity) {
        size_t capacity = s->row_capacity ? 2 * s->row_capacity : 64;
        hf_row *rows = HF_ARENA_NEW_ARRAY(arena, hf_row, capacity);
        if (rows && s->row_count) memcpy(rows, s->rows, s->row_count * sizeof *rows);
        s->rows = rows;
        s->row_capacity = rows ? capacity : 0;
    }
    hf_cell *cells = HF_ARENA_NEW_ARRAY(arena, hf_cell, count);
    if (!cells || !s->rows) {
        s->table->reader.out_of_memory = true;
        s->row_count = 0;
        return;
    }
    memcpy(cells, s->cells, count * sizeof *cells);
    s->rows[s->row_count++] = (hf_row){cells, count, line};
}

static void scan_header(scanner *s) {
    size_t count, line = s->line;
    if (!scan_row(s, HF_TABLE_COLUMNS, &count)) return;
    while (count && s->cells[count - 1].text && !s->cells[count - 1].text[0]) count--;
    if (count > HF_TABLE_COLUMNS) {
        hf_table_error(s->table, line, 1, "", "found more than %d columns, expected at most that",
                       HF_TABLE_COLUMNS);
        return;
    }
    next_line(s);
    hf_row header = {s->cells, count, line};
    hf_table_header(s->table, &header);
}

static void scan_body(scanner *s) {
    size_t columns = s->table->column_count;
    while (!hf_table_enough(s->table) && next_content(s)) {
        size_t count, line = s->line;
        if (scan_row(s, columns, &count)) {
            if (is_blank(s, count))
                count = 0;
            else if (count > columns)
                hf_table_error(
                    s->table, s->cells[columns].line, s->cells[columns].column, "",
                    "found a cell past the last of %zu columns, expected none%s", columns,
                    s->table->separator == ',' ? ": here a comma parts cells and is no decimal mark" : "");
            else if (count < columns)
                hf_table_error(s->table, line, 1, "", "found %zu cell%s, expected %zu as in the header",
                               count, count == 1 ? "" : "s", columns);
            if (count == columns) keep_row(s, count, line);
        }
        next_line(s);
        if (s->row_count > HF_CAMPAIGN_LIMIT_PULLS) {
            hf_table_error(s->table, line, 1, "", "found more than %d rows, expected at most that",
                           HF_CAMPAIGN_LIMIT_PULLS);
            return;
        }
    }
}

/* Plain numbers, parted by white space; a comma or semicolon right behind one parts too. */
static void scan_list(scanner *s) {
    static const hf_cell peak = {"peak", 1, 1};
    const hf_row header = {&peak, 1, 1};
    hf_table_header(s->table, &header);
    s->table->separator = ','; /* the point is the decimal mark */
    while (!hf_table_enough(s->table) && next_content(s)) {
        while (peek(s) == ' ' || peek(s) == '\t') step(s);
        for (; !ends_line(peek(s));) {
            size_t start = s->at, end;
            s->cells[0] = (hf_cell){.line = s->line, .column = s->column};
            while (!ends_line(peek(s)) && peek(s) != ' ' && peek(s) != '\t') step(s);
            for (end = s->at; end > start && (s->text[end - 1] == ',' || s->text[end - 1] == ';');) end--;
            s->cells[0].text = hf_arena_text(s->table->reader.arena, s->text + start, end - start);
            if (s->cells[0].text && s->cells[0].text[0]) keep_row(s, 1, s->line);
            while (peek(s) == ' ' || peek(s) == '\t') step(s);
        }
        next_line(s);
        if (s->row_count > HF_CAMPAIGN_LIMIT_PULLS) {
            error_here(s, "found more than a million numbers, expected at most that");
            return;
        }
    }
}

void hf_table_scan(hf_table *table) {
    scanner *s = HF_ARENA_NEW(table->reader.arena, scanner);
    if (!s) {
        table->reader.out_of_memory = true;
        return;
    }
    *s = (scanner){
        .table = table, .text = table->source->text, .length = table->source->length, .line = 1, .column = 1};
    if (!check_characters(s)) return;
    if (!next_content(s)) {
        error_here(s, "found no header, expected a line with the names of the columns, or plain numbers");
        return;
    }
    size_t first = s->at;
    while (s->text[first] == ' ' || s->text[first] == '\t') first++;
    table->list = strchr("0123456789.+-", s->text[first]) != NULL;
    table->mark = '.';
    if (table->list) {
        scan_list(s);
    } else if ((said_separator(s) && next_content(s)) || find_separator(s)) {
        find_mark(s);
        scan_header(s);
    }
    if (!table->list && table->column_count) scan_body(s);
    table->rows = s->rows;
    table->row_count = s->row_count;
}
