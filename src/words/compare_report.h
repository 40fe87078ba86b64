/* What the text and JSON of a comparison share. */
#ifndef HF_WORDS_COMPARE_REPORT_H
#define HF_WORDS_COMPARE_REPORT_H

#include "holdfast/study/compare.h"
#include "words/words.h"
#include "words/json_report.h"

/* The name people use for it, however long. */
const char *hf_compare_name(const hf_comparison_design *design);

/* What each pair comes to, in sentences, and the pulls against each other; see compare_document.c. */
void hf_compare_verdicts(hf_document *document, const hf_comparison *result);

/* The evidence, in tables; see compare_tables.c. */
void hf_compare_league(hf_document *document, const hf_comparison *result);
void hf_compare_evidence(hf_document *document, const hf_comparison *result);
void hf_compare_beside(hf_document *document, const hf_comparison *result);
void hf_compare_modes_table(hf_document *document, const hf_comparison_design *design);
void hf_compare_modes_tables(hf_document *document, const hf_comparison *result);
void hf_compare_ends_tables(hf_document *document, const hf_comparison *result);

/* What two-ended parts say about one fitting; also for assess. */
void hf_ends_table(hf_document *document, const hf_design *design, const hf_comparison_ends *ends);

#endif
