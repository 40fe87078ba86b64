/* What the plan's text and JSON share. */
#ifndef HF_WORDS_PLAN_REPORT_H
#define HF_WORDS_PLAN_REPORT_H

#include "holdfast/study/plan.h"
#include "words/words.h"
#include "words/json_report.h"

/* "4x10 kg + 1x5 kg"; "" when nothing hangs or no weights are listed. Lives in the arena. */
const char *hf_weights_text(hf_arena *arena, const hf_plan *plan, const hf_weight_load *load);

/* "the guess is true", or what else the figures of the plan suppose. */
const char *hf_plan_premise(const hf_plan *plan);

/* What must be added to the rig (N) for this force on the part, at twelve figures, as it is written into the file. */
double hf_plan_added(const hf_plan *plan, double force);

/* How wide the rungs of a pilot came out, and whether its ladder spans what was asked. */
void hf_plan_say_pilot(hf_document *document, const hf_plan *plan);

/* Where no design was asked for: all that are planned, how many of each and how long; and which of them follows. */
void hf_plan_say_day(hf_document *document, const hf_plan *plan);

/* Before all else: a bound above what can be hung is shown by no number of parts. Nothing where it is not. */
void hf_plan_say_reach(hf_document *document, const hf_plan *plan);

/* What is required, and what the rig's stated errors take off. */
void hf_plan_say_calibration(hf_document *document, const hf_plan *plan);

/* The safety list of every plan and sheet. */
void hf_rig_safety(hf_document *document);

/* What looks buy, where some are stated or asked for. */
void hf_plan_say_looks(hf_document *document, const hf_plan *plan);
/* What spreading the parts over batches brings: beside the expected bound, and a table. */
void hf_plan_say_spread(hf_document *document, const hf_plan *plan);
void hf_plan_say_batches(hf_document *document, const hf_plan *plan);

#endif
