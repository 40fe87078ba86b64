/* An assessment made by hand, so that the report is tested without fits: every number in it is chosen, not computed from pulls. */
#ifndef HF_TESTS_REPORT_FIXTURE_H
#define HF_TESTS_REPORT_FIXTURE_H

#include "holdfast/words/report.h"

enum { FIXTURE_BOUNDS = 5, FIXTURE_STEPS = 10, FIXTURE_CAUTIONS = 4, FIXTURE_SPECIMENS = 3 };

typedef struct fixture {
    hf_campaign campaign;
    hf_design design;
    hf_specimen specimens[FIXTURE_SPECIMENS];
    hf_bound bounds[FIXTURE_BOUNDS];
    hf_load_step steps[FIXTURE_STEPS];
    struct hf_use_factor use_factor;
    hf_caution cautions[FIXTURE_CAUTIONS];
    hf_design_assessment assessed;
    hf_assessment assessment;
    hf_findings findings;
    hf_finding finding;
    hf_report_style style;
} fixture;

/* The formula terms of the governing bound. */
typedef struct fixture_terms {
    size_t family; /* row of the family table */
    double m, s, h, k, allowance;
    double u, design_factor, use_factor; /* use_factor 0: none */
} fixture_terms;

/* Ten sewn rings, Weibull bound, load error, design factor, met requirements, four cautions. Width 80, newtons. */
void fixture_fill(fixture *f);

/* The same with these terms; every load after the bound follows from them. */
void fixture_set_terms(fixture *f, fixture_terms terms);

/* No bound at all: nothing pulled. */
void fixture_set_nothing(fixture *f);

/* A bound by the number of parts alone: no. 1 from below of 30. */
hf_bound fixture_by_order(double value);

/* The report in a format, its answer as the fixture now stands; the caller frees it. */
hf_text fixture_report(const fixture *f, const char *format);

#endif
