/* Pictures inside a document. */
#ifndef HF_CHART_DOCUMENT_CHART_H
#define HF_CHART_DOCUMENT_CHART_H

#include "holdfast/chart/chart.h"
#include "words/glance.h"

/* A picture of this kind. One that cannot be drawn is left out; with `say_why` its reason is told. */
void hf_document_chart(hf_document *document, const char *kind, const hf_chart_subject *subject,
                       bool say_why);

/* Gives each row of the table of glances its strip, and the table their axis; nothing where no part has been pulled. */
void hf_document_strips(hf_document *document, hf_block *table, const hf_glance *glances, size_t count);

#endif
