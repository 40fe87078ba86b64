/* The looks of the worksheet. */
#include <string.h>
#include "handover/sheet_parts.h"
#include "pages/sheet_style.h"

enum { TITLE_MOST = 64 }; /* columns of the title on top of every page: two lines at most beside the date */

/* In a string of a style sheet every sign of ASCII that is neither letter nor digit may end or mean something. */
static void add_string(hf_text *out, const char *text) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        bool plain = c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
        if (plain || c == ' ')
            hf_text_add_bytes(out, text, 1);
        else
            hf_text_addf(out, "\\%X ", c < 0x20 || c == 0x7F ? 0x20U : (unsigned)c);
    }
}

static void add_title(hf_text *out, const char *title) {
    hf_text clean = {0};
    hf_add_clean(&clean, title, " ");
    const char *whole = clean.bytes ? clean.bytes : "";
    bool cut = hf_text_columns(whole) > TITLE_MOST;
    if (cut && clean.bytes) clean.bytes[hf_text_cut(whole, TITLE_MOST - 1)] = '\0';
    add_string(out, whole);
    if (cut) hf_text_add(out, "…");
    out->failed = out->failed || clean.failed;
    hf_text_free(&clean);
}

void hf_sheet_style(hf_text *out, const char *title) {
    hf_text_add(out, "<style>\n");
    hf_text_add_lines(out, hf_page_sheet_css);
    hf_text_add(out, "@page{margin:20mm 12mm 15mm;@top-left{content:\"");
    add_title(out, title);
    hf_text_add(
        out, "\";font:bold 10pt/1.2 system-ui,sans-serif;color:#000;text-align:left;vertical-align:bottom;"
             "overflow-wrap:anywhere;padding-bottom:3mm}"
             "@top-right{content:\"Date\\3A  __________________\";font:10pt/1.2 "
             "system-ui,sans-serif;color:#000;width:60mm;text-align:right;vertical-align:bottom;white-space:"
             "nowrap;padding-bottom:3mm}"
             "@bottom-right{content:\"page \" counter(page) \" of \" counter(pages);font:10pt "
             "system-ui,sans-serif;color:#000;vertical-align:top;padding-top:3mm}}\n");
    hf_text_add_lines(out, hf_page_sheet_paper_css);
    hf_text_add(out, "</style>\n");
}
