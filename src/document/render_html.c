/* One page that needs nothing else: no network, no script. Texts come in without control characters and are escaped here. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include "base/version_number.h"
#include "document/document.h"
#include "document/html.h"
#include "document/html_page.h"
#include "pages/chart_style.h"
#include "pages/page_style.h"

enum { SLUG = 32, TITLE_COLUMNS = 80, LABEL_COLUMNS = 32, FIGURE_COLUMNS = 16, TALL = 900 };

/* What is open while the blocks go by. */
typedef struct page {
    const hf_document *document;
    hf_text *out;
    size_t chapters; /* begun so far */
    bool section, cards, card, listed;
    size_t subheadings;            /* so far, of all chapters */
    const char *heading, *chapter; /* the last one, and that of the chapter; NULL: none */
} page;

static void add_words(page *p, const char *text) {
    hf_html_words(p->out, text, p->document->unit);
}

static void add_part(page *p, const char *text, size_t length) {
    hf_text part = {0};
    hf_text_add_bytes(&part, text, length);
    add_words(p, part.bytes ? part.bytes : "");
    if (part.failed) p->out->failed = true;
    hf_text_free(&part);
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

static void end_card(page *p) {
    if (p->card) hf_text_add(p->out, "</div>\n");
    p->card = false;
}

/* Answers that follow each other stand side by side where there is room. */
static void close_cards(page *p) {
    end_card(p);
    if (p->cards) hf_text_add(p->out, "</div>\n");
    p->cards = false;
}

static void add_contents(page *p) {
    size_t number = 0;
    hf_text_add(p->out, "<nav aria-labelledby=\"contents\">\n<h2 id=\"contents\">On this page</h2>\n<ol>\n");
    for (const hf_block *block = p->document->first; block; block = block->next) {
        if (block->kind != HF_BLOCK_HEADING) continue;
        hf_text_add(p->out, "<li><a href=\"#");
        add_anchor(p->out, ++number, block->text);
        hf_text_addf(p->out, "\"%s>", hf_html_direction(block->text));
        hf_html_add(p->out, block->text);
        hf_text_add(p->out, "</a></li>\n");
    }
    hf_text_add(p->out, "</ol>\n</nav>\n");
}

/* The list of chapters follows the first of them, so that the answer comes before everything else. */
static void close_section(page *p) {
    close_cards(p);
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
    hf_text_addf(p->out, "\"%s>", hf_html_direction(block->text));
    add_words(p, block->text);
    hf_text_add(p->out, "</h2>\n");
    p->section = true;
}

/* --- Blocks ------------------------------------------------------------------------------------------ */

/* A picture that would be too small on paper if it shared a sheet with another. */
static bool is_tall(const char *picture) {
    const char *height = picture ? strstr(picture, " height=\"") : NULL;
    return height && strtod(height + 9, NULL) > TALL;
}

static void add_chart(page *p, const hf_block *chart) {
    hf_text_addf(p->out, "<figure%s>\n<div class=\"box\">\n",
                 is_tall(chart->picture) ? " class=\"tall\"" : "");
    hf_text_add(p->out, chart->picture ? chart->picture : "");
    hf_text_add(p->out, "</div>\n");
    add_element(p, "figcaption", chart->text, "figcaption");
    hf_text_add(p->out, "</figure>\n");
}

/* "Cautions: few parts": the words before the colon stand out. */
static void add_fact(page *p, const char *element, const char *text) {
    const char *colon = strstr(text, ": ");
    hf_text_addf(p->out, "<%s>", element);
    if (colon && colon - text <= LABEL_COLUMNS) {
        hf_text_add(p->out, "<b>");
        add_part(p, text, (size_t)(colon - text) + 1);
        hf_text_add(p->out, "</b>");
        text = colon + 1;
    }
    add_words(p, text);
    hf_text_addf(p->out, "</%s>\n", element);
}

/* Lines of one sum and items of one list stand in one box. */
static void add_grouped(page *p, const hf_block *block, const char *open, const char *line,
                        const char *close) {
    if (!p->listed) hf_text_add(p->out, open);
    if (block->kind == HF_BLOCK_ITEM)
        add_fact(p, line, block->text);
    else
        add_element(p, line, block->text, line);
    p->listed = block->next && block->next->kind == block->kind;
    if (!p->listed) hf_text_add(p->out, close);
}

/* Where the load begins that ends a sentence, "240 N."; NULL when none does. */
static const char *last_load(const page *p, const char *text) {
    const char *unit = p->document->unit;
    size_t length = strlen(text), unit_length = strlen(unit);
    if (length < unit_length + 3 || text[length - 1] != '.') return NULL;
    const char *at = text + length - 1 - unit_length;
    if (strncmp(at, unit, unit_length) != 0 || at[-1] != ' ') return NULL;
    const char *from = at - 1;
    while (from > text && from[-1] != ' ') from--;
    return isdigit((unsigned char)*from) && at - from <= FIGURE_COLUMNS ? from : NULL;
}

static void add_answer(page *p, const hf_block *block) {
    const char *load = last_load(p, block->text);
    end_card(p);
    if (!p->cards) hf_text_add(p->out, "<div class=\"cards\">\n");
    p->card = p->cards = true;
    hf_text_add(p->out, load ? "<div class=\"card load\">\n" : "<div class=\"card\">\n");
    if (!load) {
        add_element(p, "p class=\"answer\"", block->text, "p");
        return;
    }
    const char *from = block->text;
    for (const char *at = strstr(from, ": "); at && at < load; at = strstr(from, ": ")) from = at + 1;
    hf_text_add(p->out, "<p class=\"answer\">");
    if (from != block->text) {
        hf_text_addf(p->out, "<span%s>", hf_html_direction(block->text));
        add_part(p, block->text, (size_t)(from - block->text));
        hf_text_add(p->out, "</span>");
    }
    add_part(p, from, (size_t)(load - from));
    add_element(p, "strong", load, "strong");
    hf_text_add(p->out, "</p>\n");
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
    if (block->link) close_cards(p);
    if (!number) {
        if (p->card)
            add_fact(p, "p", block->text);
        else
            add_element(p, "p", block->text, "p");
        return;
    }
    hf_text_add(p->out, "<p class=\"safety\">");
    add_part(p, block->text, (size_t)(name - block->text));
    hf_text_add(p->out, "<a href=\"#");
    add_anchor(p->out, number, block->link);
    hf_text_add(p->out, "\">");
    hf_html_add(p->out, block->link);
    hf_text_add(p->out, "</a>");
    add_words(p, name + strlen(block->link));
    hf_text_add(p->out, "</p>\n");
}

/* With an anchor of its own; who jumps from heading to heading hears which chapter it stands in. */
static void add_subheading(page *p, const hf_block *block) {
    hf_text_add(p->out, "<h3 id=\"");
    add_anchor(p->out, p->chapters, block->text);
    hf_text_addf(p->out, "-%zu\"%s>", ++p->subheadings, hf_html_direction(block->text));
    add_words(p, block->text);
    if (p->chapter && strcmp(p->chapter, block->text) != 0) {
        hf_text_add(p->out, "<span class=\"hidden\">: ");
        add_part(p, p->chapter, hf_text_cut(p->chapter, LABEL_COLUMNS));
        hf_text_add(p->out, "</span>");
    }
    hf_text_add(p->out, "</h3>\n");
}

/* --- At one look -------------------------------------------------------------------------------------- */

/* The sign that leads the first cell has a look of its own; what reads the page aloud has the words. */
static const char *after_sign(const char *cell, hf_tone tone) {
    const char *blank = tone == HF_TONE_PLAIN ? NULL : strchr(cell, ' ');
    return blank ? blank + 1 : cell;
}

static void add_name(page *p, const hf_row *row) {
    const char *name = after_sign(row->cells[0], row->tone);
    size_t number = row->link ? chapter_number(p->document, row->link) : 0;
    hf_text_addf(p->out, "<p class=\"name\"%s>", hf_html_direction(name));
    if (number) {
        hf_text_add(p->out, "<a href=\"#");
        add_anchor(p->out, number, row->link);
        hf_text_add(p->out, "\">");
    }
    add_words(p, name);
    hf_text_add(p->out, number ? "</a></p>\n" : "</p>\n");
}

/* A table whose rows explain themselves: of each its name, its load, its picture, and what is said of it. */
static void add_glances(page *p, const hf_block *table) {
    static const char *const tones[] = {
        [HF_TONE_PLAIN] = "plain", [HF_TONE_GOOD] = "good", [HF_TONE_IF] = "if", [HF_TONE_BAD] = "bad"};
    hf_text_addf(p->out, "<ul class=\"glances%s\">\n", table->picture ? "" : " brief");
    for (const hf_row *row = table->rows; row; row = row->next) {
        hf_text_addf(p->out, "<li class=\"%s\">\n", tones[row->tone]);
        add_name(p, row);
        hf_text_add(p->out, "<p class=\"much\"><strong>");
        add_words(p, row->cells[1]);
        hf_text_add(p->out, "</strong>");
        if (row->cells[2][0]) {
            hf_text_add(p->out, " <span>");
            add_words(p, row->cells[2]);
            hf_text_add(p->out, " in all</span>");
        }
        hf_text_add(p->out, "</p>\n");
        if (row->picture) hf_text_add(p->out, row->picture);
        if (row->cells[3][0]) {
            const char *name = after_sign(row->cells[0], row->tone);
            size_t sign = (size_t)(name - row->cells[0]);
            hf_text_add(p->out, "<p class=\"says\">");
            if (sign)
                hf_text_addf(p->out, "<span aria-hidden=\"true\">%.*s</span>", (int)sign, row->cells[0]);
            add_words(p, row->cells[3]);
            hf_text_add(p->out, "</p>\n");
        }
        hf_text_add(p->out, "</li>\n");
    }
    hf_text_add(p->out, "</ul>\n");
    if (!table->picture) return;
    hf_text_add(p->out, table->picture);
    add_element(p, "p", table->text, "p");
}

static void add_block(page *p, const hf_block *block) {
    switch (block->kind) {
    case HF_BLOCK_TITLE:
        break;
    case HF_BLOCK_HEADING:
        open_chapter(p, block);
        p->heading = p->chapter = block->text;
        break;
    case HF_BLOCK_SUBHEADING:
        close_cards(p);
        add_subheading(p, block);
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
        close_cards(p);
        if (block->bare)
            add_glances(p, block);
        else
            hf_html_table(p->out, block, p->heading, p->document->unit);
        break;
    case HF_BLOCK_FOLD:
        close_cards(p);
        add_element(p, "details>\n<summary", block->text, "summary");
        break;
    case HF_BLOCK_UNFOLD:
        hf_text_add(p->out, "</details>\n");
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

static bool has_pictures(const hf_document *document) {
    for (const hf_block *block = document->first; block; block = block->next)
        if (block->picture) return true;
    return false;
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
    hf_text_add(out, "</title>\n<style>\n");
    hf_text_add_lines(out, hf_page_page_css);
    if (has_pictures(document)) hf_text_add_lines(out, hf_page_chart_css);
    hf_text_add(out, "@page{@bottom-left{content:");
    hf_html_css_string(out, cut.bytes ? cut.bytes : "Holdfast");
    if (cut.failed) out->failed = true;
    hf_text_free(&cut);
    hf_text_add(out, "}}\n</style>\n</head>\n<body>\n");
    if (document->chapters) hf_text_add(out, "<a class=\"skip\" href=\"#report\">Skip to the report</a>\n");
}

void hf_render_html(const hf_document *document, hf_text *out) {
    page p = {.document = document, .out = out};
    const char *title = title_of(document);
    add_head(document, title, out);
    hf_text_add(out, "<header>\n");
    hf_text_addf(out, "<h1%s>", hf_html_direction(title));
    hf_html_add(out, title);
    hf_text_add(out, "</h1>\n</header>\n<main id=\"report\">\n");
    for (const hf_block *block = document->first; block; block = block->next) add_block(&p, block);
    close_section(&p);
    hf_text_add(out, "</main>\n</body>\n</html>\n");
}
