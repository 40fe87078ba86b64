/* Results as documents: numbers in words, and what the kinds of result share. */
#ifndef HF_WORDS_WORDS_H
#define HF_WORDS_WORDS_H

#include "document/document.h"
#include "holdfast/words/report.h"
#include "words/show.h"

/* A document in this style, empty. */
hf_document hf_document_for(hf_arena *arena, const hf_report_style *style);

/* Numbers as show.h says what they are; results live in the arena. Only a sum chooses its figures itself, as many as it takes to redo it. */
const char *hf_figures_text(hf_document *document, double value, int figures);
const char *hf_bare_load(hf_document *document, double newtons,
                         int figures); /* in the unit shown, without it */
/* Three figures, and more where they would make it 1. */
const char *hf_ratio_text(hf_document *document, double ratio);
/* A promised load in a cell of a table: rounded down, without its unit, "none above 0" where it is 0 or less. */
const char *hf_bound_cell(hf_document *document, double newtons);

/* The text, cut with an ellipsis to at most so many columns: for names that stand where room is short. */
const char *hf_cut_text(hf_document *document, const char *text, size_t columns);
/* The name people use for a design, at most HF_NAME_COLUMNS wide. */
const char *hf_design_name(hf_document *document, const hf_design *design);

/* Labels of the laws that `among` takes, in the order of the list, `article` before the second and later ones: "normal and the lognormal"
 * with "the ". Empty where it takes none. */
const char *hf_laws_text(hf_document *document, bool (*among)(const hf_family *family), const char *article);
/* Three such choices: laws of the load itself; of its logarithm; laws whose parameters are a shape and a scale. */
bool hf_law_of_load(const hf_family *family);
bool hf_law_of_logarithm(const hf_family *family);
bool hf_law_with_shape(const hf_family *family);

/* Content of the kinds of result. */

/* Whether there is a bound to be worked out from the event, and the printed sum, see sum.c, without and with which number in it is what, see
 * sum_words.c. */
bool hf_has_sum(const hf_event_assessment *event);
/* D where a step allowance A is 1/D with a whole D, which reads better; else 0. */
double hf_sum_divisor(double allowance);
void hf_sum_bare(const hf_design_assessment *design, const hf_event_assessment *event, hf_document *document);
void hf_sum_lines(const hf_design_assessment *design, const hf_event_assessment *event,
                  hf_document *document);
/* `figures`: of the numbers as they stand in the sum. */
void hf_sum_explain_pair(hf_document *document, const hf_design_assessment *design, const hf_bound *bound);
void hf_sum_explain_between(hf_document *document, const hf_design_assessment *design,
                            const hf_event_assessment *event, int figures);
void hf_sum_explain_batches(hf_document *document, const hf_design_assessment *design,
                            const hf_event_assessment *event, int figures);
void hf_sum_explain(hf_document *document, const hf_design_assessment *design,
                    const hf_event_assessment *event, int figures, bool down);

/* The answer for one design with its reason, and whether the stated requirements are met, see assess_document.c. */
void hf_assess_answer(hf_document *document, const hf_design_assessment *design);

/* The earlier designs whose scatter a design counts on; nothing where it states none. */
void hf_earlier_table(hf_document *document, const hf_scatter *scatter);

/* A strip for each of these designs, over the same loads, and how it is read; nothing where the style wants none. See strip_text.c. */
void hf_strip_lines(hf_document *document, const hf_design_assessment *const *designs, size_t count);

/* Tables of an event and of the trade's rules, see assess_tables.c. */
void hf_counts_words(hf_document *document, const hf_design_assessment *design,
                     const hf_event_assessment *event);
/* What the strongest single part did: "failed at 1007 N after holding 967.3 N"; NULL where no pull shows it. */
const char *hf_best_pull_words(hf_document *document, const hf_design_assessment *design,
                               const hf_event_assessment *event);
void hf_bounds_table(hf_document *document, const hf_event_assessment *event);
void hf_fits_table(hf_document *document, const hf_event_assessment *event);
void hf_trade_table(hf_document *document, const hf_design_assessment *design);
void hf_promises_table(hf_document *document, const hf_design_assessment *design);

/* One item per caution: whom it is about (or ""), its title and words. */
void hf_document_cautions(hf_document *document, const hf_cautions *list, const char *about);

/* The titles of these cautions, "Run-outs; Few failures". */
const char *hf_caution_names(hf_document *document, const hf_cautions *list);

/* Line `at` of what must be looked to before each pull, as it stands on the worksheet; NULL past the last. */
const char *hf_safety_item(size_t at);

/* Safety limits that stand under every result, whole and in two lines; and what it takes to have the same figures again. */
void hf_limits(hf_document *document);
void hf_short_limits(hf_document *document);
void hf_repeat_line(hf_document *document, const hf_campaign *campaign, uint64_t seed);

#endif
