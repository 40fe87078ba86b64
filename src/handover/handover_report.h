/* The chapters of a hand-over. */
#ifndef HF_HANDOVER_HANDOVER_REPORT_H
#define HF_HANDOVER_HANDOVER_REPORT_H

#include "holdfast/study/study.h"
#include "words/words.h"

/* One design: step-down, pulls, law, what more parts would bring, ways of failing, ladder, rules, cautions. */
void hf_handover_design_chapter(hf_document *document, const hf_study *study, size_t index);
/* The designs against each other; nothing with one design. */
void hf_handover_comparison(hf_document *document, const hf_study *study);
/* Under which conditions, with what, by whom: what the file states and what it does not. */
void hf_handover_conditions(hf_document *document, const hf_study *study);
/* Every pull as it was recorded. */
void hf_handover_pulls(hf_document *document, const hf_study *study);
/* How the figures were found and how far they can be trusted. */
void hf_handover_method(hf_document *document, const hf_study *study);
/* Program, input, seed, command line. */
void hf_handover_provenance(hf_document *document, const hf_study *study);

/* The text, or "not stated". */
const char *hf_or_not_stated(const char *text);

#endif
