/* Tables of a page. */
#ifndef HF_DOCUMENT_HTML_PAGE_H
#define HF_DOCUMENT_HTML_PAGE_H

#include "document/document.h"

/* One table. `heading`: the heading above it, its name where it has no caption; NULL: none. `unit`: of the loads in it. */
void hf_html_table(hf_text *out, const hf_block *table, const char *heading, const char *unit);

#endif
