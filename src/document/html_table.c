/* A table on a page. How much room it needs is reckoned here from its words, so that the style sheet can lay it out where there is less:
 * on a narrow screen each row of a table that does not fit becomes a small block, in which every value bears the head of its column. */
#include <ctype.h>
#include <string.h>
#include "document/html.h"
#include "document/html_page.h"

/* In columns of text: what a sentence is, what a word that may be broken anywhere, what a value that is kept on one line; the room that a
 * sentence needs, that a phone, a tablet, a tablet with small letters, a small screen on a desk, a whole sheet, a quarter, a third or half of a sheet of paper has; in rows: what is kept on one sheet, the same of rows that hold sentences, what is a long list; of numbers: the decimals that are lined up, and by how many they may differ. */
enum {
    SENTENCE = 24,
    LONG_WORD = 18,
    KEPT = 14,
    SENTENCE_ROOM = 16,
    SHORT_HEAD = 7,
    PHONE = 36,
    TABLET = 76,
    SNUG = 96,
    DESK = 100,
    PAPER = 116,
    SHORT_CAPTION = 72,
    BRIEF_ROWS = 8,
    BRIEF_TALES = 6,
    LONG_LIST = 14,
    QUARTER_OF_PAPER = 19,
    THIRD_OF_PAPER = 28,
    HALF_OF_PAPER = 45,
    UNIT_LETTERS = 3,
    MOST_DECIMALS = 6,
    MOST_ADDED = 3,
    HASH_DIGITS = 64
};

/* `lead`: the column that names the row. `decimals`: of the numbers in each column, 0 where they are not lined up. */
typedef struct layout {
    bool stack, broad, tells;
    size_t rows, room, lead, decimals[HF_TABLE_COLUMNS];
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

/* Decimals of a plain number; -1: it is none. */
static int decimals_of(const char *text) {
    size_t whole = strspn(text, "0123456789");
    if (!whole) return -1;
    if (!text[whole]) return 0;
    size_t part = text[whole] == '.' ? strspn(text + whole + 1, "0123456789") : 0;
    return part && !text[whole + 1 + part] ? (int)part : -1;
}

static bool is_nothing(const char *text) {
    return strcmp(text, "-") == 0 || strcmp(text, "–") == 0;
}

/* The most decimals in a column of plain numbers; 0: there is something else in it, or they differ too much to be lined up. */
static size_t decimals_in(const hf_block *table, size_t column) {
    int most = 0, least = MOST_DECIMALS;
    if (!table->right[column]) return 0;
    for (const hf_row *row = table->rows; row; row = row->next) {
        const char *cell = row->cells[column];
        int decimals = decimals_of(cell);
        if (decimals < 0 && !is_nothing(cell) && strcmp(cell, "none") != 0) return 0;
        if (decimals > most) most = decimals;
        if (decimals >= 0 && decimals < least) least = decimals;
    }
    return most <= MOST_DECIMALS && most - least <= MOST_ADDED ? (size_t)most : 0;
}

/* The room that a column of numbers takes in addition when their points stand below each other. */
static size_t added_room(const hf_block *table, size_t column, size_t decimals) {
    size_t whole = 0, most = 0;
    for (const hf_row *row = table->rows; decimals && row; row = row->next) {
        most = larger(most, hf_text_columns(row->cells[column]));
        whole = larger(whole, strspn(row->cells[column], "0123456789"));
    }
    return whole + 1 + decimals > most && decimals ? whole + 1 + decimals - most : 0;
}

/* A row that begins with a rank is named by what follows it. */
static size_t lead_of(const hf_block *table) {
    return table->columns > 2 && table->right[0] && !table->right[1] ? 1 : 0;
}

static layout layout_of(const hf_block *table) {
    layout out = {0};
    size_t widest = 0;
    for (size_t i = 0; i < table->columns; i++) out.room += column_room(table, i, &widest) + (i ? 2 : 0);
    for (const hf_row *row = table->rows; row; row = row->next) out.rows++;
    for (size_t i = 0; i < table->columns; i++) {
        out.decimals[i] = decimals_in(table, i);
        out.room += added_room(table, i, out.decimals[i]);
    }
    out.lead = lead_of(table);
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

static const char *cell_class(const hf_block *table, size_t column, const char *text) {
    if (is_nothing(text)) return table->right[column] ? " class=\"n none\"" : " class=\"none\"";
    if (table->right[column]) return " class=\"n\"";
    if (longest_word(text) >= LONG_WORD) return " class=\"long\"";
    if (hf_text_columns(text) > SENTENCE) return " class=\"says\"";
    return is_kept(text) ? " class=\"k\"" : "";
}

/* "force on part, N": the unit stays with the word before it, as long as there are others to break between. */
static void add_head_words(hf_text *out, const char *text) {
    const char *first = strchr(text, ' '), *last = strrchr(text, ' ');
    bool kept = first != last && strlen(last) <= UNIT_LETTERS + 1;
    hf_text start = {0};
    if (kept) {
        hf_text_add_bytes(&start, text, (size_t)(last - text));
        hf_text_add(&start, "\xC2\xA0");
        hf_text_add(&start, last + 1);
    }
    hf_html_add(out, kept && start.bytes ? start.bytes : text);
    if (start.failed) out->failed = true;
    hf_text_free(&start);
}

static void add_head_cell(hf_text *out, const hf_block *table, const layout *how, size_t column) {
    const char *text = table->header[column];
    bool whole = hf_text_columns(text) <= SHORT_HEAD;
    hf_text_addf(out, "<th scope=\"col\"%s%s%s>", how->stack ? " role=\"columnheader\"" : "",
                 !table->right[column] ? ""
                 : whole               ? " class=\"n k\""
                                       : " class=\"n\"",
                 hf_html_direction(text));
    add_head_words(out, text);
    hf_text_add(out, "</th>");
}

/* Whether a column gives the error of the one before it. */
static bool is_error(const hf_block *table, size_t column) {
    return column && column < table->columns && strcmp(table->header[column], "±") == 0;
}

static void open_cell(hf_text *out, const hf_block *table, const layout *how, size_t column,
                      const hf_row *row) {
    const char *text = row->cells[column];
    bool lead = column == how->lead;
    hf_text_addf(out, "<%s%s%s%s", lead ? "th scope=\"row\"" : "td",
                 !how->stack ? ""
                 : lead      ? " role=\"rowheader\""
                             : " role=\"cell\"",
                 cell_class(table, column, text), hf_html_direction(text));
    if (how->stack && (!lead || table->right[column])) add_label(out, "data-label", table->header[column]);
    if (how->stack && is_error(table, column)) hf_text_add(out, " data-error");
    if (how->stack && is_error(table, column + 1) && decimals_of(row->cells[column + 1]) >= 0)
        add_label(out, "data-more", row->cells[column + 1]);
    hf_text_add(out, ">");
}

/* Invisible places of the decimals that a number does not have, so that the points of a column stand below each other. */
static void add_number(hf_text *out, const char *text, size_t decimals) {
    int own = decimals_of(text);
    hf_html_add(out, text);
    if (own < 0 || (size_t)own == decimals) return;
    hf_text_addf(out, "<span class=\"z\">%s", own ? "" : "\xE2\x80\x88");
    for (size_t i = (size_t)own; i < decimals; i++) hf_text_add(out, "\xE2\x80\x87");
    hf_text_add(out, "</span>");
}

/* Pieces that a line ends between rather than within. */
static void add_piece(hf_text *out, const char *text, size_t length) {
    hf_text piece = {0};
    hf_text_add_bytes(&piece, text, length);
    hf_text_add(out, "<span class=\"w\">");
    hf_html_add(out, piece.bytes ? piece.bytes : "");
    hf_text_add(out, "</span>");
    if (piece.failed) out->failed = true;
    hf_text_free(&piece);
}

static bool is_hash(const char *text) {
    return strspn(text, "0123456789abcdef") == HASH_DIGITS && !text[HASH_DIGITS];
}

/* Half of it on one line, or else in two. */
static void add_half_hash(hf_text *out, const char *digits) {
    enum { QUARTER = HASH_DIGITS / 4 };
    hf_text_addf(out, "<span class=\"w\"><span class=\"w\">%.*s</span><span class=\"w\">%.*s</span></span>",
                 QUARTER, digits, QUARTER, digits + QUARTER);
}

static bool is_command(const char *text) {
    return strncmp(text, "holdfast ", 9) == 0;
}

static void add_content(hf_text *out, const char *text, size_t decimals, const char *unit) {
    if (is_hash(text)) {
        add_half_hash(out, text);
        add_half_hash(out, text + HASH_DIGITS / 2);
    } else if (is_command(text)) {
        while (*text) {
            size_t length = strcspn(text, " ");
            if (length) add_piece(out, text, length);
            text += length;
            if (*text) hf_text_add_bytes(out, text++, 1);
        }
    } else if (decimals) {
        add_number(out, text, decimals);
    } else {
        hf_html_words(out, text, unit);
    }
}

static void add_row(hf_text *out, const hf_block *table, const layout *how, const hf_row *row,
                    const char *unit) {
    hf_text_add(out, how->stack ? "<tr role=\"row\">" : "<tr>");
    for (size_t i = 0; i < table->columns; i++) {
        open_cell(out, table, how, i, row);
        add_content(out, row->cells[i], how->decimals[i], unit);
        hf_text_add(out, i == how->lead ? "</th>" : "</td>");
    }
    hf_text_add(out, "</tr>\n");
}

/* A table that does not even fit on paper is made of blocks everywhere. */
static const char *breadth(const layout *how) {
    if (!how->broad) return "";
    if (how->room <= SNUG) return " ample snug";
    return how->room <= DESK ? " ample" : how->room <= PAPER ? " ample vast" : " ample endless";
}

/* In how many columns a long list of short rows stands on paper and on a broad screen. */
static size_t columns_of(const layout *how) {
    if (how->rows <= LONG_LIST) return 1;
    if (how->room <= QUARTER_OF_PAPER) return 4;
    return how->room <= THIRD_OF_PAPER ? 3 : how->room <= HALF_OF_PAPER ? 2 : 1;
}

static const char *list_class(const layout *how) {
    static const char *const names[] = {"", " list", " list several two", " list several three",
                                        " list several four"};
    return how->rows <= LONG_LIST ? "" : names[columns_of(how)];
}

/* A table is printed on one sheet when it takes so little of it that no large part of another stays empty. */
static bool is_brief(const layout *how) {
    return how->rows <= columns_of(how) * (how->tells ? BRIEF_TALES : BRIEF_ROWS);
}

static void open_table(hf_text *out, const hf_block *table, const layout *how, const char *name) {
    hf_text_addf(out, "<div class=\"box table%s%s%s\"", how->broad ? " broad" : "",
                 is_brief(how) ? " brief" : "", list_class(how));
    if (how->broad && how->room <= PAPER) {
        hf_text_add(out, " role=\"region\" tabindex=\"0\"");
        add_label(out, "aria-label", name);
    }
    hf_text_addf(out, "><table class=\"%s%s%s%s\"%s>\n", table->columns > 2 ? "many" : "few",
                 how->stack ? " stack" : "", breadth(how), how->tells ? " tells" : "",
                 how->stack ? " role=\"table\"" : "");
}

/* Above the columns of a long list, where its caption would stand in the first of them only. */
static void add_title(hf_text *out, const char *caption) {
    hf_text_addf(out, "<p class=\"title\" aria-hidden=\"true\"%s>", hf_html_direction(caption));
    hf_html_add(out, caption);
    hf_text_add(out, "</p>\n");
}

static void add_caption(hf_text *out, const char *caption, bool hidden) {
    hf_text_addf(out, "<caption%s%s>%s", hf_text_columns(caption) <= SHORT_CAPTION ? " class=\"short\"" : "",
                 hf_html_direction(caption), hidden ? "<span class=\"hidden\">" : "");
    hf_html_add(out, caption);
    hf_text_addf(out, "%s</caption>\n", hidden ? "</span>" : "");
}

void hf_html_table(hf_text *out, const hf_block *table, const char *heading, const char *unit) {
    const char *caption = table->text[0] ? table->text : heading ? heading : "Table";
    const layout how = layout_of(table);
    bool in_columns = columns_of(&how) > 1;
    const char *group = how.stack ? " role=\"rowgroup\"" : "";
    if (in_columns && table->text[0]) add_title(out, caption);
    open_table(out, table, &how, caption);
    add_caption(out, caption, !table->text[0] || in_columns);
    hf_text_addf(out, "<thead%s><tr%s>", group, how.stack ? " role=\"row\"" : "");
    for (size_t i = 0; i < table->columns; i++) add_head_cell(out, table, &how, i);
    hf_text_addf(out, "</tr></thead>\n<tbody%s>\n", group);
    for (const hf_row *row = table->rows; row; row = row->next) add_row(out, table, &how, row, unit);
    hf_text_add(out, "</tbody>\n</table></div>\n");
}
