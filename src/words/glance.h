/* What one line says of a design: the words of the short answer, the card and the first screen of a page. */
#ifndef HF_WORDS_GLANCE_H
#define HF_WORDS_GLANCE_H

#include "words/words.h"

typedef struct hf_glance {
    const hf_design_assessment *design;
    hf_tone tone;
    const char *name;
    const char *load;    /* "240 N", rounded down: the working load, else the bound; "no load" */
    const char *mass;    /* "24.4 kg", all that may hang for a working load; else "" */
    const char *verdict; /* "covers 120 N 2.0 times" */
    const char
        *but; /* the condition, or the worst that speaks against it: "if the scatter really is 5 %"; "" */
    const char *says; /* both as one sentence */
} hf_glance;

/* One for each design of the assessment, best first: by what the verdict gives, then by the load. In the arena of the document; NULL when
 * memory fails. */
const hf_glance *hf_glance_of(hf_document *document, const hf_assessment *assessment);

/* The answer over all designs in one line, of the best one: "ring: work with at most 240 N (24.4 kg in all)"; `name`: as it is to stand
 * there. */
const char *hf_glance_headline(hf_document *document, const hf_glance *best, const char *name);
/* " Of 3 designs 2 are enough, 1 on a condition."; "" of one. */
const char *hf_glance_tally(hf_document *document, const hf_glance *glances, size_t count);

/* "✓", "!", "✗"; "" where nothing was asked. Static. */
const char *hf_glance_sign(hf_tone tone);

/* All of them as a table, one line each. */
hf_block *hf_glance_table(hf_document *document, const hf_glance *glances, size_t count);

/* What the best bound is worth for whoever picks its design for it, or that it is taken so that it holds; nothing where there is no choice. */
void hf_glance_picked(hf_document *document, const hf_assessment *assessment);

#endif
