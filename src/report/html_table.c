/* A table on a page. How much room it needs is reckoned here from its words, so that the style sheet can lay it out where there is less:
 * on a narrow screen each row of a table that does not fit becomes a small block, in which every value bears the head of its column. */
#include <ctype.h>
#include <string.h>
#include "report/html.h"
#include "report/html_page.h"

/* In columns of text: what a sentence is, what a word that may be broken anywhere, what a value that is kept on one line; the room that a
 * sentence needs, that a phone, a tablet, a small screen on a desk, a whole sheet, a third or half of a sheet of paper has; in rows: what is kept on one sheet, what is a long list. */
enum {
    SENTENCE = 24,
    LONG_WORD = 18,
    KEPT = 14,
    SENTENCE_ROOM = 16,
    SHORT_HEAD = 10,
    PHONE = 36,
    TABLET = 76,
    DESK = 100,
    PAPER = 116,
    SHORT_CAPTION = 72,
    BRIEF_ROWS = 14,
    LONG_LIST = 24,
    THIRD_OF_PAPER = 31,
    HALF_OF_PAPER = 47
};

typedef struct layout {
    bool stack, broad, tells;
    size_t rows, room;
} layout;

static size_t longest_word(const char *text) {
    size_t longest = 0;
    while (*text) {
        size_t length = strcspn(text, " ");
        size_t columns = length < LONG_WORD ? length : LONG_WORD;
        if (columns > longest) longest = columns;
        text += length + (text[length] == ' ');
    }
    return longest;
}

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

/* The room that one column needs at least; what its widest value takes goes to *widest. */
static size_t column_room(const hf_block *table, size_t column, size_t *widest) {
    size_t head = hf_text_columns(table->header[column]), most = 0;
    size_t room = table->right[column] && head <= SHORT_HEAD ? head : longest_word(table->header[column]);
    for (const hf_row *row = table->rows; row; row = row->next) {
        size_t columns = hf_text_columns(row->cells[column]);
        most = larger(most, columns);
        if (!table->right[column]) room = larger(room, longest_word(row->cells[column]));
    }
    *widest = most;
    if (table->right[column]) return larger(room, most);
    if (most > SENTENCE) return larger(room, SENTENCE_ROOM);
    return larger(room, most < KEPT ? most : KEPT);
}

static layout layout_of(const hf_block *table) {
    layout out = {0};
    size_t widest = 0;
    for (size_t i = 0; i < table->columns; i++) out.room += column_room(table, i, &widest) + (i ? 2 : 0);
    for (const hf_row *row = table->rows; row; row = row->next) out.rows++;
    out.tells = widest > SENTENCE;
    out.stack = table->columns > 2 && out.room > PHONE;
    out.broad = out.stack && out.room > TABLET;
    return out;
}

static void add_label(hf_text *out, const char *name, const char *text) {
    hf_text_addf(out, " %s=\"", name);
    hf_html_add(out, text);
    hf_text_add(out, "\"");
}

/* A date, "roll 1" or "run-out": not to be broken at its hyphen or blank. */
static bool is_kept(const char *text) {
    return strpbrk(text, " -") && hf_text_columns(text) <= KEPT;
}

static bool is_nothing(const char *text) {
    return strcmp(text, "-") == 0 || strcmp(text, "–") == 0;
}

static const char *cell_class(const hf_block *table, size_t column, const char *text) {
    if (is_nothing(text)) return table->right[column] ? " class=\"n none\"" : " class=\"none\"";
    if (table->right[column]) return " class=\"n\"";
    if (longest_word(text) >= LONG_WORD) return " class=\"long\"";
    if (hf_text_columns(text) > SENTENCE) return " class=\"says\"";
    return is_kept(text) ? " class=\"k\"" : "";
}

static void add_head_cell(hf_text *out, const hf_block *table, const layout *how, size_t column) {
    const char *text = table->header[column];
    bool whole = hf_text_columns(text) <= SHORT_HEAD;
    hf_text_addf(out, "<th scope=\"col\"%s%s%s>", how->stack ? " role=\"columnheader\"" : "",
                 !table->right[column] ? ""
                 : whole               ? " class=\"n k\""
                                       : " class=\"n\"",
                 hf_html_direction(text));
    hf_html_add(out, text);
    hf_text_add(out, "</th>");
}

static void add_cell(hf_text *out, const hf_block *table, const layout *how, size_t column,
                     const char *text) {
    const char *role = column ? " role=\"cell\"" : " role=\"rowheader\"";
    hf_text_addf(out, "<%s%s%s%s", column ? "td" : "th scope=\"row\"", how->stack ? role : "",
                 cell_class(table, column, text), hf_html_direction(text));
    if (how->stack && (column || table->right[column])) add_label(out, "data-label", table->header[column]);
    hf_text_add(out, ">");
}

static void add_row(hf_text *out, const hf_block *table, const layout *how, const hf_row *row,
                    const char *unit) {
    hf_text_add(out, how->stack ? "<tr role=\"row\">" : "<tr>");
    for (size_t i = 0; i < table->columns; i++) {
        add_cell(out, table, how, i, row->cells[i]);
        hf_html_words(out, row->cells[i], unit);
        hf_text_add(out, i ? "</td>" : "</th>");
    }
    hf_text_add(out, "</tr>\n");
}

/* A table that does not even fit on paper is made of blocks everywhere. */
static const char *breadth(const layout *how) {
    if (!how->broad) return "";
    return how->room <= DESK ? " ample" : how->room <= PAPER ? " ample vast" : " ample endless";
}

/* A long list of short rows is printed in columns. */
static const char *list_class(const layout *how) {
    if (how->rows <= LONG_LIST) return "";
    return how->room <= THIRD_OF_PAPER ? " list three" : how->room <= HALF_OF_PAPER ? " list two" : " list";
}

static void open_table(hf_text *out, const hf_block *table, const layout *how, const char *name) {
    hf_text_addf(out, "<div class=\"box table%s%s%s\"", how->broad ? " broad" : "",
                 how->rows <= BRIEF_ROWS ? " brief" : "", list_class(how));
    if (how->broad && how->room <= PAPER) {
        hf_text_add(out, " role=\"region\" tabindex=\"0\"");
        add_label(out, "aria-label", name);
    }
    hf_text_addf(out, "><table class=\"%s%s%s%s\"%s>\n", table->columns > 2 ? "many" : "few",
                 how->stack ? " stack" : "", breadth(how), how->tells ? " tells" : "",
                 how->stack ? " role=\"table\"" : "");
}

void hf_html_table(hf_text *out, const hf_block *table, const char *heading, const char *unit) {
    const char *caption = table->text[0] ? table->text : heading ? heading : "Table";
    const layout how = layout_of(table);
    const char *group = how.stack ? " role=\"rowgroup\"" : "";
    open_table(out, table, &how, caption);
    hf_text_addf(out, "<caption%s%s>", hf_text_columns(caption) <= SHORT_CAPTION ? " class=\"short\"" : "",
                 hf_html_direction(caption));
    if (!table->text[0]) hf_text_add(out, "<span class=\"hidden\">");
    hf_html_add(out, caption);
    hf_text_addf(out, "%s</caption>\n<thead%s><tr%s>", table->text[0] ? "" : "</span>", group,
                 how.stack ? " role=\"row\"" : "");
    for (size_t i = 0; i < table->columns; i++) add_head_cell(out, table, &how, i);
    hf_text_addf(out, "</tr></thead>\n<tbody%s>\n", group);
    for (const hf_row *row = table->rows; row; row = row->next) add_row(out, table, &how, row, unit);
    hf_text_add(out, "</tbody>\n</table></div>\n");
}
