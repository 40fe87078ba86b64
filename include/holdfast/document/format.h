/* How a document looks.
 *
 * What is told, in reading order, is one thing; how it looks is another: a terminal, a page, Markdown. A format is one row. */
#ifndef HOLDFAST_DOCUMENT_FORMAT_H
#define HOLDFAST_DOCUMENT_FORMAT_H

#include <stddef.h>
#include "holdfast/base/text.h"

struct hf_document;

/* render NULL: the kind's own JSON. */
typedef struct hf_report_format {
    const char *name; /* "text", "json", "md", "html" */
    void (*render)(const struct hf_document *document, hf_text *out);
} hf_report_format;

/* The table; *count rows. Static. */
const hf_report_format *hf_report_format_table(size_t *count);
const hf_report_format *hf_report_format_find(const char *name);

#endif
