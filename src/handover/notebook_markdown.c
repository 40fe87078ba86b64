/* Markdown for notebooks. Their readers differ in what they take for markup, links and formulas, and some look for formulas in the finished page. So
 * whatever may mean something stands as a character reference, and the two that begin a formula in an element of their own. */
#include <assert.h>
#include <string.h>
#include "document/markdown.h"
#include "handover/notebook_parts.h"

enum { WHOLE_CELL = 18 }; /* columns of a cell that stays on one line: "no law: two values" */

typedef enum text_place { BEGINS_LINE, WITHIN, CELL } text_place;

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_w(char c) {
    return c == 'w' || c == 'W';
}

static bool is_meaning(const char *text, size_t at) {
    char c = text[at];
    if (strchr("&<>\"`*_[]{}|#~!^@", c)) return true;
    if (c == ':') return text[at + 1] == '/';
    return c == '.' && at >= 3 && is_w(text[at - 1]) && is_w(text[at - 2]) && is_w(text[at - 3]);
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* Between a number and its unit, and before a unit that ends the text, as in "load, N". */
static bool is_unbroken(const char *text, size_t at) {
    const char *word = text + at + 1;
    size_t length = 0;
    if (at == 0 || text[at] != ' ') return false;
    if (*word == '%') return is_digit(text[at - 1]);
    while (is_letter(word[length])) length++;
    bool follows = is_digit(text[at - 1]) || (text[at - 1] == ',' && !word[length]);
    return follows && length > 0 && hf_unit_find(word, length);
}

static void add_clean(hf_text *out, const char *text, text_place place) {
    bool begins_line = place == BEGINS_LINE, whole = place == CELL && hf_text_columns(text) <= WHOLE_CELL;
    for (size_t at = 0; text[at]; at++) {
        char c = text[at];
        bool opens = begins_line && at == 0 && (unsigned char)c < 0x80 && !is_letter(c); /* perhaps a list */
        if (c == '$' || c == '\\')
            hf_text_addf(out, "<span>&#%d;</span>", c);
        else if (opens || is_meaning(text, at))
            hf_text_addf(out, "&#%d;", c);
        else if ((whole && c == ' ') || is_unbroken(text, at))
            hf_text_add(out, "&nbsp;");
        else
            hf_text_add_bytes(out, text + at, 1);
    }
}

static void add_placed(hf_text *out, const char *text, text_place place) {
    hf_text clean = {0};
    hf_add_clean(&clean, text, "?");
    if (clean.bytes) add_clean(out, clean.bytes, place);
    if (clean.failed) out->failed = true;
    hf_text_free(&clean);
}

void hf_notebook_add_text(hf_text *out, const char *text) {
    add_placed(out, text, WITHIN);
}

/* Of a document only cells do not begin a line. */
static void add_text(hf_text *out, const char *text, bool begins_line) {
    add_placed(out, text, begins_line ? BEGINS_LINE : CELL);
}

static const hf_markdown dialect = {.add_text = add_text,
                                    .strong = "<strong>",
                                    .strong_end = "</strong>\n",
                                    .sum = "> ",
                                    .sum_end = "  \n",
                                    .most_rows = HF_NOTEBOOK_ROWS};

/* Something always follows in the cell: the last block ends with a blank line too. */
void hf_notebook_add_blocks(hf_text *out, int level, const hf_block *first, const hf_block *end) {
    static const char *const marks[] = {"## ", "### ", "#### ", "##### "};
    hf_markdown levelled = dialect;
    assert(level >= 2 && level <= 4);
    levelled.heading = marks[level - 2];
    levelled.subheading = marks[level - 1];
    hf_markdown_blocks(&levelled, first, end, out);
    if (first && first != end) hf_text_add(out, "\n");
}
