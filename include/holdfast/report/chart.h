/* Results as pictures.
 *
 * A chart is one SVG: real text, a title and a description that states the finding, no script, nothing from outside. It can stand alone as
 * a file or inside a page. Blue is what was pulled or expected, vermilion what is promised or wanted; shape and dash say the same, so that
 * colour is never needed. */
#ifndef HOLDFAST_REPORT_CHART_H
#define HOLDFAST_REPORT_CHART_H

#include "holdfast/base/error.h"
#include "holdfast/report/report.h"
#include "holdfast/study/step_curve.h"

/* What a chart is drawn from; what its kind does not need may be NULL. */
typedef struct hf_chart_subject {
    const hf_plan *plan;
    const hf_step_curve *curve;
    const hf_design_assessment *design;
    const hf_comparison *comparison;
} hf_chart_subject;

struct hf_chart;

/* A kind of chart is one row. */
typedef struct hf_chart_kind {
    const char *name;    /* "pulls" */
    const char *summary; /* one line without full stop */
    bool needs_plan, needs_curve, needs_design, needs_comparison;
    /* NULL, or why nothing can be drawn. */
    const char *(*draw)(struct hf_chart *chart, const hf_chart_subject *subject);
} hf_chart_kind;

/* The table; *count rows. Static. */
const hf_chart_kind *hf_chart_kind_table(size_t *count);
const hf_chart_kind *hf_chart_kind_find(const char *name);
/* Name of row `at`, NULL past the last. */
const char *hf_chart_kind_name(size_t at);

/* Appends the chart as one <svg> element. HF_NO_RESULT with words when there is nothing to draw (*out is then unchanged), HF_MEMORY. What the
 * kind needs must be there. */
hf_status hf_chart_draw(const hf_chart_kind *kind, const hf_chart_subject *subject,
                        const hf_report_style *style, hf_text *out, hf_error *error);

#endif
