/* Pictures inside a document. */
#ifndef HF_CHART_DOCUMENT_CHART_H
#define HF_CHART_DOCUMENT_CHART_H

#include "holdfast/chart/chart.h"
#include "words/words.h"

/* A picture of this kind. One that cannot be drawn is left out; with `say_why` its reason is told. */
void hf_document_chart(hf_document *document, const char *kind, const hf_chart_subject *subject,
                       bool say_why);

#endif
