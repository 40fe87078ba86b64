/* What the sentences about an assessment ask of it before they are chosen. Texts live in the arena or are static. */
#ifndef HF_WORDS_ASSESS_WORDS_H
#define HF_WORDS_ASSESS_WORDS_H

#include "holdfast/campaign/used.h"
#include "words/words.h"

/* The governing bound leans on a law that the pulls speak against. */
bool hf_governing_rejected(const hf_event_assessment *event);
bool hf_all_laws_rejected(const hf_event_assessment *event);

/* "whatever the strength law", or for how many laws a bound of this method holds. */
const char *hf_whatever_law_words(const hf_bound *bound);

/* "588.4 N": a bound or limit, rounded down to four figures. */
const char *hf_bound_load(hf_document *document, double newtons);
/* A load that a pull showed: as recorded where it is a short number in the unit shown, else four figures. */
const char *hf_seen_load(hf_document *document, double newtons);
const char *hf_seen_bare(hf_document *document, double newtons);

/* Which pulls leave the strength open on one side: "some parts did not fail", "some parts failed at the first load stated", or both. */
const char *hf_open_words(const hf_assess_counts *counts);
/* What the mean of the failed parts leaves out; "about half of all parts are weaker" where it leaves out nothing. */
const char *hf_mean_words(hf_document *document, const hf_design_assessment *design);

/* "the scatter really is 5 %": what the design's cautions say a promise hangs on, joined by "and"; "" when it hangs on nothing. `modes`: with
 * the shares of its ways of failing. */
const char *hf_hangs_on(hf_document *document, const hf_design_assessment *design, bool modes);
/* "few batches": the title of a caution within a sentence. */
const char *hf_caution_said(hf_document *document, hf_caution_code code);
/* The caution that weighs most, unless it is only a note; NULL: none. */
const hf_caution *hf_worst_caution(const hf_design_assessment *design);
/* "load above all the weights": the title of the caution that breaks the number; "" when none does. */
const char *hf_broken_by(hf_document *document, const hf_design_assessment *design);

/* "check first: unlike the other pulls": what `record` would have asked about; "" when there is nothing of it. */
const char *hf_doubted(hf_document *document, const hf_design_assessment *design);

/* The event that the answer speaks of: breaking, unless first movement limits. */
const hf_event_assessment *hf_answering_event(const hf_design_assessment *design);
/* Why there is no bound, what can be said all the same, and what to do. */
void hf_assess_why_not(hf_document *document, const hf_event_assessment *event);
/* The sentence that answers, with its reason; what still lacks for a working load; of which part of a two-ended one the bound speaks. */
void hf_assess_lead(hf_document *document, const hf_design_assessment *design);
const char *hf_missing_words(hf_no_load reason);
void hf_assess_one_fitting(hf_document *document, const hf_design_assessment *design);
/* Whether the stated requirements are met, and the one thing to do next. */
void hf_assess_required(hf_document *document, const hf_design_assessment *design);
void hf_assess_service(hf_document *document, const hf_design_assessment *design);
void hf_assess_next(hf_document *document, const hf_design_assessment *design);

/* "after every part from 5 to 15", "after 5 and 10 parts" */
const char *hf_look_plan_text(hf_document *document, const hf_stated_looks *looks);
/* Where one stands among the stated looks, and at what confidence each is taken; nothing where none are stated. */
void hf_looks_words(hf_document *document, const hf_design_assessment *design);
/* " Going on costs: …", what more parts take from the promise where no looks are stated; "" where they take nothing. */
const char *hf_going_on_words(hf_document *document, const hf_design_assessment *design);
/* ", that of each look, so that all together keep 95 %"; "" where the confidence promised is used itself. */
const char *hf_confidence_words(hf_document *document, const hf_design_assessment *design);

/* Limits for a result that may hold working loads. */
void hf_assess_limits(hf_document *document, const hf_assessment *assessment);

#endif
