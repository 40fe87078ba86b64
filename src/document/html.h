/* Text for HTML pages: escaped, no markup of the file's names gets through. */
#ifndef HF_DOCUMENT_HTML_H
#define HF_DOCUMENT_HTML_H

#include "holdfast/base/text.h"

/* Appends text with & < > " ' escaped and control characters as a blank. */
void hf_html_add(hf_text *out, const char *text);

/* The same, with a blank between a number and "%" or the unit that no line ends at. */
void hf_html_words(hf_text *out, const char *text, const char *unit);

/* The attribute of an element whose letters may run from right to left, with a blank before it; "" for all others. */
const char *hf_html_direction(const char *text);

/* Appends text as a quoted string of a style sheet inside a page: nothing in it can end the string, the rule or the element. */
void hf_html_css_string(hf_text *out, const char *text);

#endif
