/* Markdown for notebooks. Their readers differ in what they take for markup, links and formulas, and some look for formulas in the finished page. So
 * whatever may mean something stands as a character reference, and the two that begin a formula in an element of their own. */
#include <assert.h>
#include <string.h>
#include "report/markdown.h"
#include "report/notebook_parts.h"

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

static void add_clean(hf_text *out, const char *text, bool begins_line) {
    for (size_t at = 0; text[at]; at++) {
        char c = text[at];
        bool opens = begins_line && at == 0 && (unsigned char)c < 0x80 && !is_letter(c); /* perhaps a list */
        if (c == '$' || c == '\\')
            hf_text_addf(out, "<span>&#%d;</span>", c);
        else if (opens || is_meaning(text, at))
            hf_text_addf(out, "&#%d;", c);
        else
            hf_text_add_bytes(out, text + at, 1);
    }
}

static void add_text(hf_text *out, const char *text, bool begins_line) {
    hf_text clean = {0};
    hf_add_clean(&clean, text, "?");
    if (clean.bytes) add_clean(out, clean.bytes, begins_line);
    if (clean.failed) out->failed = true;
    hf_text_free(&clean);
}

void hf_notebook_add_text(hf_text *out, const char *text) {
    add_text(out, text, false);
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
