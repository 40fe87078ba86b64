/* One page that needs nothing else: no network, no script. Texts come in without control characters and are escaped here. */
#include <ctype.h>
#include <string.h>
#include "base/version_number.h"
#include "report/document.h"
#include "report/html.h"
#include "report/html_page.h"

enum {
    SLUG = 32,
    TITLE_COLUMNS = 80,
    MANY_COLUMNS = 4,
    WIDE_COLUMNS = 9,
    SENTENCE = 24,
    LONG_WORD = 18,
    SHORT_CAPTION = 72
};

/* What is open while the blocks go by. */
typedef struct page {
    const hf_document *document;
    hf_text *out;
    size_t chapters; /* begun so far */
    bool section, card, listed;
    const char *heading; /* the last one, NULL: none */
} page;

/* A text whose letters may run from right to left says so itself. U+0590, the first such letter, starts with the byte D6. */
static const char *direction(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text >= 0xD6) return " dir=\"auto\"";
    return "";
}

/* "95 %" and "240 N" are not torn apart at the end of a line. */
static void add_words(page *p, const char *text) {
    const char *unit = p->document->style->unit->name, *from = text;
    size_t length = strlen(unit);
    hf_text piece = {0};
    for (const char *at = text; *at; at++) {
        bool percent = at[0] == ' ' && at[1] == '%';
        bool load = at[0] == ' ' && strncmp(at + 1, unit, length) == 0 && strchr(" .,;:)", at[1 + length]);
        if (at == text || !isdigit((unsigned char)at[-1]) || !(percent || load)) continue;
        hf_text_add_bytes(&piece, from, (size_t)(at - from));
        hf_text_add(&piece, "\xC2\xA0");
        from = at + 1;
    }
    hf_text_add(&piece, from);
    hf_html_add(p->out, piece.bytes ? piece.bytes : "");
    if (piece.failed) p->out->failed = true;
    hf_text_free(&piece);
}

static void add_element(page *p, const char *open, const char *text, const char *close) {
    hf_text_addf(p->out, "<%s>", open);
    add_words(p, text);
    hf_text_addf(p->out, "</%s>\n", close);
}

/* The anchor of a chapter: its number makes it unique, its words make it readable. */
static void add_anchor(hf_text *out, size_t number, const char *heading) {
    char slug[SLUG + 1];
    size_t length = 0;
    for (const char *at = heading; *at && length < SLUG; at++) {
        unsigned char c = (unsigned char)*at;
        if (c < 0x80 && isalnum(c))
            slug[length++] = (char)tolower(c);
        else if (length && slug[length - 1] != '-')
            slug[length++] = '-';
    }
    while (length && slug[length - 1] == '-') length--;
    slug[length] = '\0';
    hf_text_addf(out, "s%zu%s%s", number, length ? "-" : "", slug);
}

/* --- Opening and closing ----------------------------------------------------------------------------- */

static void close_card(page *p) {
    if (p->card) hf_text_add(p->out, "</div>\n");
    p->card = false;
}

static void add_contents(page *p) {
    size_t number = 0;
    hf_text_add(p->out, "<nav aria-labelledby=\"contents\">\n<h2 id=\"contents\">On this page</h2>\n<ol>\n");
    for (const hf_block *block = p->document->first; block; block = block->next) {
        if (block->kind != HF_BLOCK_HEADING) continue;
        hf_text_add(p->out, "<li><a href=\"#");
        add_anchor(p->out, ++number, block->text);
        hf_text_addf(p->out, "\"%s>", direction(block->text));
        hf_html_add(p->out, block->text);
        hf_text_add(p->out, "</a></li>\n");
    }
    hf_text_add(p->out, "</ol>\n</nav>\n");
}

/* The list of chapters follows the first of them, so that the answer comes before everything else. */
static void close_section(page *p) {
    close_card(p);
    if (!p->section) return;
    hf_text_add(p->out, "</section>\n");
    p->section = false;
    if (p->document->chapters && p->chapters == 1) add_contents(p);
}

static void open_chapter(page *p, const hf_block *block) {
    close_section(p);
    p->chapters++;
    hf_text_addf(p->out, "<section%s aria-labelledby=\"",
                 p->document->chapters && p->chapters == 1 ? " class=\"first\"" : "");
    add_anchor(p->out, p->chapters, block->text);
    hf_text_add(p->out, "\">\n<h2 id=\"");
    add_anchor(p->out, p->chapters, block->text);
    hf_text_addf(p->out, "\"%s>", direction(block->text));
    hf_html_add(p->out, block->text);
    hf_text_add(p->out, "</h2>\n");
    p->section = true;
}

/* --- Blocks ------------------------------------------------------------------------------------------ */

static void add_label(page *p, const char *text) {
    hf_text_add(p->out, " role=\"region\" tabindex=\"0\" aria-label=\"");
    hf_html_add(p->out, text);
    hf_text_add(p->out, "\"");
}

/* A path, a hash or the like: it may be broken anywhere, words may not. */
static bool has_long_word(const char *text) {
    while (*text) {
        size_t length = strcspn(text, " ");
        if (length > LONG_WORD) return true;
        text += length + (text[length] == ' ');
    }
    return false;
}

static void add_cell(page *p, const hf_block *table, size_t column, const char *text, const char *scope) {
    const char *class = table->right[column] ? " class=\"n\"" : has_long_word(text) ? " class=\"long\"" : "";
    hf_text_addf(p->out, "<%s%s%s%s%s%s>", scope ? "th" : "td", scope ? " scope=\"" : "", scope ? scope : "",
                 scope ? "\"" : "", class, direction(text));
    add_words(p, text);
    hf_text_add(p->out, scope ? "</th>" : "</td>");
}

/* Whether the last column holds sentences. */
static bool tells(const hf_block *table) {
    for (const hf_row *row = table->rows; row; row = row->next)
        if (hf_text_columns(row->cells[table->columns - 1]) > SENTENCE) return true;
    return false;
}

static void add_table(page *p, const hf_block *table) {
    const char *caption = table->text[0] ? table->text : p->heading ? p->heading : "Table";
    hf_text_addf(p->out, "<div class=\"box table%s\"", table->columns >= WIDE_COLUMNS ? " broad" : "");
    add_label(p, caption);
    hf_text_addf(p->out, "><table class=\"%s%s%s\">\n", table->columns >= MANY_COLUMNS ? "many" : "few",
                 table->columns >= WIDE_COLUMNS ? " wide" : "", tells(table) ? " tells" : "");
    hf_text_addf(p->out, "<caption%s%s>", hf_text_columns(caption) <= SHORT_CAPTION ? " class=\"short\"" : "",
                 direction(caption));
    if (!table->text[0]) hf_text_add(p->out, "<span class=\"hidden\">");
    hf_html_add(p->out, caption);
    hf_text_add(p->out, table->text[0] ? "</caption>\n<thead><tr>" : "</span></caption>\n<thead><tr>");
    for (size_t i = 0; i < table->columns; i++) add_cell(p, table, i, table->header[i], "col");
    hf_text_add(p->out, "</tr></thead>\n<tbody>\n");
    for (const hf_row *row = table->rows; row; row = row->next) {
        hf_text_add(p->out, "<tr>");
        for (size_t i = 0; i < table->columns; i++)
            add_cell(p, table, i, row->cells[i], i == 0 ? "row" : NULL);
        hf_text_add(p->out, "</tr>\n");
    }
    hf_text_add(p->out, "</tbody>\n</table></div>\n");
}

static void add_chart(page *p, const hf_block *chart) {
    hf_text_add(p->out, "<figure>\n<div class=\"box\"");
    add_label(p, "Chart, can be scrolled sideways");
    hf_text_add(p->out, ">\n");
    hf_text_add(p->out, chart->picture ? chart->picture : "");
    hf_text_add(p->out, "</div>\n");
    add_element(p, "figcaption", chart->text, "figcaption");
    hf_text_add(p->out, "</figure>\n");
}

/* Lines of one sum and items of one list stand in one box. */
static void add_grouped(page *p, const hf_block *block, const char *open, const char *line,
                        const char *close) {
    if (!p->listed) hf_text_add(p->out, open);
    add_element(p, line, block->text, line);
    p->listed = block->next && block->next->kind == block->kind;
    if (!p->listed) hf_text_add(p->out, close);
}

static void add_answer(page *p, const hf_block *block) {
    close_card(p);
    hf_text_add(p->out, "<div class=\"card\">\n");
    add_element(p, "p class=\"answer\"", block->text, "p");
    p->card = true;
}

/* The number of a chapter by its heading; 0: there is none. */
static size_t chapter_number(const hf_document *document, const char *heading) {
    size_t number = 0, found = 0;
    for (const hf_block *block = document->first; block; block = block->next) {
        if (block->kind != HF_BLOCK_HEADING) continue;
        number++;
        if (strcmp(block->text, heading) == 0)
            found = number; /* a design may bear the same name, further up */
    }
    return found;
}

static void add_paragraph(page *p, const hf_block *block) {
    const char *name = block->link ? strstr(block->text, block->link) : NULL;
    size_t number = name ? chapter_number(p->document, block->link) : 0;
    if (block->link) close_card(p);
    if (!number) {
        add_element(p, "p", block->text, "p");
        return;
    }
    hf_text_add(p->out, "<p class=\"safety\">");
    hf_text before = {0};
    hf_text_add_bytes(&before, block->text, (size_t)(name - block->text));
    add_words(p, before.bytes ? before.bytes : "");
    if (before.failed) p->out->failed = true;
    hf_text_free(&before);
    hf_text_add(p->out, "<a href=\"#");
    add_anchor(p->out, number, block->link);
    hf_text_add(p->out, "\">");
    hf_html_add(p->out, block->link);
    hf_text_add(p->out, "</a>");
    add_words(p, name + strlen(block->link));
    hf_text_add(p->out, "</p>\n");
}

static void add_block(page *p, const hf_block *block) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        break;
    case HF_BLOCK_HEADING:
        open_chapter(p, block);
        p->heading = block->text;
        break;
    case HF_BLOCK_SUBHEADING:
        close_card(p);
        hf_text_addf(p->out, "<h3%s>", direction(block->text));
        hf_html_add(p->out, block->text);
        hf_text_add(p->out, "</h3>\n");
        p->heading = block->text;
        break;
    case HF_BLOCK_ANSWER:
        add_answer(p, block);
        break;
    case HF_BLOCK_FINDING:
        add_element(p, "p class=\"finding\"", block->text, "p");
        break;
    case HF_BLOCK_PARAGRAPH:
        add_paragraph(p, block);
        break;
    case HF_BLOCK_SUM:
        add_grouped(p, block, "<div class=\"sum\">\n", "p", "</div>\n");
        break;
    case HF_BLOCK_ITEM:
        add_grouped(p, block, "<ul>\n", "li", "</ul>\n");
        break;
    case HF_BLOCK_TABLE:
        add_table(p, block);
        break;
    case HF_BLOCK_CHART:
        add_chart(p, block);
        break;
    }
}

static const char *title_of(const hf_document *document) {
    for (const hf_block *block = document->first; block; block = block->next)
        if (block->kind == HF_BLOCK_TITLE) return block->text;
    return "Holdfast";
}

static void add_head(const hf_document *document, const char *title, hf_text *out) {
    hf_text_add(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                     "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
                     "'unsafe-inline'\">\n"
                     "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                     "<meta name=\"color-scheme\" content=\"light dark\">\n"
                     "<meta name=\"generator\" content=\"Holdfast " HF_VERSION "\">\n<title>");
    hf_text cut = {0};
    hf_text_add_bytes(&cut, title, hf_text_cut(title, TITLE_COLUMNS));
    hf_html_add(out, cut.bytes ? cut.bytes : "Holdfast");
    hf_text_free(&cut);
    hf_text_add(out, "</title>\n<style>\n");
    for (size_t i = 0; hf_html_style[i]; i++) hf_text_add(out, hf_html_style[i]);
    hf_text_add(out, "</style>\n</head>\n<body>\n");
    if (document->chapters) hf_text_add(out, "<a class=\"skip\" href=\"#report\">Skip to the report</a>\n");
}

void hf_render_html(const hf_document *document, hf_text *out) {
    page p = {.document = document, .out = out};
    const char *title = title_of(document);
    add_head(document, title, out);
    hf_text_add(out, "<header>\n");
    hf_text_addf(out, "<h1%s>", direction(title));
    hf_html_add(out, title);
    hf_text_add(out, "</h1>\n</header>\n<main id=\"report\">\n");
    for (const hf_block *block = document->first; block; block = block->next) add_block(&p, block);
    close_section(&p);
    hf_text_add(out, "</main>\n</body>\n</html>\n");
}
