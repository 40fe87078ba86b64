/* Head, style and frame of a page. */
#ifndef HF_REPORT_HTML_PAGE_H
#define HF_REPORT_HTML_PAGE_H

#include "report/document.h"

/* The style sheet of every page in pieces, as it stands between <style> and </style>; NULL ends it. Static. */
extern const char *const hf_html_style[];

/* One table. `heading`: the heading above it, its name where it has no caption; NULL: none. `unit`: of the loads in it. */
void hf_html_table(hf_text *out, const hf_block *table, const char *heading, const char *unit);

#endif
