#include "report/html.h"

#include <ctype.h>
#include <string.h>

void hf_html_add(hf_text *out, const char *text) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c == '&')
            hf_text_add(out, "&amp;");
        else if (c == '<')
            hf_text_add(out, "&lt;");
        else if (c == '>')
            hf_text_add(out, "&gt;");
        else if (c == '"')
            hf_text_add(out, "&quot;");
        else if (c == '\'')
            hf_text_add(out, "&#39;");
        else if (c < 0x20 || c == 0x7F)
            hf_text_add(out, " ");
        else
            hf_text_add_bytes(out, text, 1);
    }
}

void hf_html_words(hf_text *out, const char *text, const char *unit) {
    const char *from = text;
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
    hf_html_add(out, piece.bytes ? piece.bytes : "");
    if (piece.failed) out->failed = true;
    hf_text_free(&piece);
}

/* U+0590, the first letter that runs from right to left, starts with the byte D6. */
const char *hf_html_direction(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text >= 0xD6) return " dir=\"auto\"";
    return "";
}

void hf_html_css_string(hf_text *out, const char *text) {
    hf_text_add(out, "\"");
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c >= 0x80 || isalnum(c) || (c != '\0' && strchr(" ,.-", c)))
            hf_text_add_bytes(out, text, 1);
        else
            hf_text_addf(out, "\\%X ", c);
    }
    hf_text_add(out, "\"");
}
