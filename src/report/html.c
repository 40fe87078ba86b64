#include "report/html.h"

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
