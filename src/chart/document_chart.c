/* A picture inside a document: the drawing and, for formats without pictures and for the caption, its finding in words. */
#include <string.h>
#include "chart/document_chart.h"
#include "words/words.h"

/* The text between two marks of the picture, escaped as it stands there; NULL when it is not there. */
static const char *inside(hf_document *document, const char *picture, const char *open, const char *close) {
    const char *from = strstr(picture, open);
    const char *to = from ? strstr(from, close) : NULL;
    if (!to) return NULL;
    from += strlen(open);
    return hf_arena_text(document->arena, from, (size_t)(to - from));
}

/* The other way round of hf_html_add, in place. */
static void unescape(char *text) {
    static const char *const marks[][2] = {
        {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}};
    char *out = text;
    while (*text) {
        size_t i = 0, count = sizeof marks / sizeof *marks;
        while (i < count && strncmp(text, marks[i][0], strlen(marks[i][0])) != 0) i++;
        if (i < count) {
            *out++ = marks[i][1][0];
            text += strlen(marks[i][0]);
        } else {
            *out++ = *text++;
        }
    }
    *out = '\0';
}

/* The picture without what stands between such marks, wherever it stands. */
static const char *without(hf_document *document, const char *picture, const char *open, const char *close) {
    hf_text out = {0};
    for (const char *at; (at = strstr(picture, open)) != NULL;) {
        const char *end = strstr(at, close);
        if (!end) break;
        hf_text_add_bytes(&out, picture, (size_t)(at - picture));
        picture = end + strlen(close);
    }
    hf_text_add(&out, picture);
    const char *kept =
        out.bytes && !out.failed ? hf_arena_text(document->arena, out.bytes, out.length) : NULL;
    hf_text_free(&out);
    return kept;
}

/* Both drawings, of which a page shows one. Its own style sheet has their looks, and the caption is their description. */
static void add_picture(hf_document *document, const hf_text *wide, const hf_text *narrow) {
    const char *picture = hf_arena_format(document->arena, "%s%s", wide->bytes, narrow->bytes);
    const char *escaped = picture ? inside(document, picture, "<desc>", "</desc>") : NULL;
    char *finding = escaped ? hf_arena_text(document->arena, escaped, strlen(escaped)) : NULL;
    if (!finding) return;
    unescape(finding);
    hf_block *block = hf_document_add(document, HF_BLOCK_CHART, finding);
    picture = without(document, picture, "<desc>", "</desc>");
    if (block && picture) block->picture = without(document, picture, "<style>", "</style>");
}

void hf_document_chart(hf_document *document, const char *name, const hf_chart_subject *subject,
                       bool say_why) {
    const hf_chart_kind *kind = hf_chart_kind_find(name);
    hf_text wide = {0}, narrow = {0};
    hf_error why;
    if (!kind || !hf_chart_can_draw(kind, subject)) return;
    hf_error_clear(&why);
    hf_chart_subject beside = *subject;
    beside.finding_beside = true;
    hf_status status = hf_chart_draw(kind, &beside, document->style, &wide, &why);
    beside.width = HF_CHART_NARROW;
    if (status == HF_OK) status = hf_chart_draw(kind, &beside, document->style, &narrow, &why);
    if (status == HF_OK)
        add_picture(document, &wide, &narrow);
    else if (status == HF_NO_RESULT && say_why)
        hf_document_addf(document, HF_BLOCK_PARAGRAPH, "No picture here: %s.",
                         strstr(why.message, ": ") ? strstr(why.message, ": ") + 2 : why.message);
    hf_text_free(&wide);
    hf_text_free(&narrow);
}
