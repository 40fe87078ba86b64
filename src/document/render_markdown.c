/* Markdown, with everything that could be markup escaped. Texts come in without control characters. */
#include <string.h>
#include "document/markdown.h"

static void add_escaped(hf_text *out, const char *text, bool begins_line) {
    (void)begins_line;
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        if (c == '<')
            hf_text_add(out, "&lt;");
        else if (c == '>')
            hf_text_add(out, "&gt;");
        else if (c == '&')
            hf_text_add(out, "&amp;");
        else if (strchr("\\`*_[]|#~", c))
            hf_text_addf(out, "\\%c", c);
        else
            hf_text_add_bytes(out, text, 1);
    }
}

static const hf_markdown dialect = {.add_text = add_escaped,
                                    .heading = "## ",
                                    .subheading = "### ",
                                    .strong = "**",
                                    .strong_end = "**\n",
                                    .sum = "    ",
                                    .sum_end = "\n",
                                    .sum_as_it_is = true};

void hf_render_markdown(const hf_document *document, hf_text *out) {
    hf_markdown_blocks(&dialect, document->first, NULL, out);
}
