/* What the text and JSON of a comparison share. */
#ifndef HF_WORDS_COMPARE_REPORT_H
#define HF_WORDS_COMPARE_REPORT_H

#include "holdfast/study/compare.h"
#include "words/words.h"
#include "words/json_report.h"

/* The name people use for it, however long. */
const char *hf_compare_name(const hf_comparison_design *design);

/* A pair as it is told: the stronger one first, or the one that came out ahead. */
typedef struct hf_pair_told {
    const char *first, *second;
    double ratio, low, high;
    const char *confidence;
} hf_pair_told;

hf_pair_told hf_compare_told(hf_document *document, const hf_comparison *result,
                             const hf_comparison_pair *pair);
/* Of a pair that cannot be told apart: "ring came out 1.13 times as strong; it may be 4 % weaker or 32 % stronger". */
const char *hf_compare_apart(hf_document *document, const hf_comparison *result,
                             const hf_comparison_pair *pair);
/* The one that is typically stronger has the lower bound. */
bool hf_compare_other_order(const hf_comparison *result, const hf_comparison_pair *pair);
/* "0.0072", "<0.0001", "-" for none. */
const char *hf_compare_p(hf_document *document, double p);
/* A pair is judged by it. */
bool hf_compare_any_method(const hf_comparison *result, hf_comparison_method method);
/* All that is known of the pair are pulls against each other. */
bool hf_compare_only_matched(const hf_comparison *result, const hf_comparison_pair *pair);
void hf_compare_match(hf_document *document, const hf_comparison *result, const hf_comparison_match *match);

/* What each pair comes to, in sentences, and the pulls against each other; see compare_document.c. */
void hf_compare_verdicts(hf_document *document, const hf_comparison *result);

/* The evidence, in tables; see compare_tables.c. */
void hf_compare_league(hf_document *document, const hf_comparison *result);
void hf_compare_league_table(hf_document *document, const hf_comparison *result);
void hf_compare_league_notes(hf_document *document, const hf_comparison *result);
/* Heading and cautions of the comparison, each list by `add` with what it is about; `file`: what that of the whole file is about. */
void hf_compare_cautions(hf_document *document, const hf_comparison *result,
                         void (*add)(hf_document *, const hf_cautions *, const char *about),
                         const char *file);
/* A line for each pair; see compare_short.c. */
void hf_compare_pairs(hf_document *document, const hf_comparison *result);
void hf_compare_evidence(hf_document *document, const hf_comparison *result);
void hf_compare_beside(hf_document *document, const hf_comparison *result);
void hf_compare_modes_table(hf_document *document, const hf_comparison_design *design);
void hf_compare_modes_tables(hf_document *document, const hf_comparison *result);
void hf_compare_ends_tables(hf_document *document, const hf_comparison *result);

/* What two-ended parts say about one fitting; also for assess. */
void hf_ends_table(hf_document *document, const hf_design *design, const hf_comparison_ends *ends);

#endif
