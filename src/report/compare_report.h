/* What the text and JSON of a comparison share. */
#ifndef HF_REPORT_COMPARE_REPORT_H
#define HF_REPORT_COMPARE_REPORT_H

#include "holdfast/study/compare.h"
#include "report/document.h"
#include "report/json_report.h"

/* The name people use for it. */
const char *hf_compare_name(const hf_comparison_design *design);

/* The evidence, in tables; see compare_tables.c. */
void hf_compare_league(hf_document *document, const hf_comparison *result);
void hf_compare_evidence(hf_document *document, const hf_comparison *result);
void hf_compare_beside(hf_document *document, const hf_comparison *result);
void hf_compare_modes_tables(hf_document *document, const hf_comparison *result);
void hf_compare_ends_tables(hf_document *document, const hf_comparison *result);

void hf_compare_json(const void *result, const hf_report_style *style, hf_text *out);

#endif
