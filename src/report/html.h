/* Text for HTML pages: escaped, no markup of the file's names gets through. */
#ifndef HF_REPORT_HTML_H
#define HF_REPORT_HTML_H

#include "holdfast/base/text.h"

/* Appends text with & < > " ' escaped and control characters as a blank. */
void hf_html_add(hf_text *out, const char *text);

#endif
