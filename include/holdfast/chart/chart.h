/* Results as pictures.
 *
 * A chart is one SVG: real text, a title, and the finding in words, printed under the picture and as its description; no script, nothing from
 * outside. It can stand alone as a file or inside a page. Dark grey is what was pulled or expected, green what is promised, rust and dashed what is asked; shape and dash say the
 * same, so that colour is never needed. */
#ifndef HOLDFAST_CHART_CHART_H
#define HOLDFAST_CHART_CHART_H

#include "holdfast/base/error.h"
#include "holdfast/words/report.h"
#include "holdfast/study/earlier.h"
#include "holdfast/study/probability_plot.h"
#include "holdfast/study/so_far.h"
#include "holdfast/study/step_curve.h"

/* Widths a picture is laid out for: a page or a file of its own, and a telephone. Below HF_CHART_BETWEEN labels stand above what they name. */
enum { HF_CHART_NARROW = 340, HF_CHART_BETWEEN = 500, HF_CHART_WIDE = 640 };

/* What a chart is drawn from; what its kind does not need may be NULL. */
typedef struct hf_chart_subject {
    const hf_plan *plan;
    const hf_step_curve *curve;
    const hf_design_assessment *design;
    const hf_assessment *assessment; /* of all designs */
    const hf_so_far *so_far;
    const hf_comparison *comparison;
    const hf_probability_plot *probability; /* of `design` */
    const hf_earlier *earlier;
    bool finding_beside; /* the page prints the finding beside the picture; the picture does not repeat it */
    int width;           /* of the picture, HF_CHART_NARROW to HF_CHART_WIDE; 0: HF_CHART_WIDE */
} hf_chart_subject;

struct hf_chart;

/* The kinds: X(name, what it needs, one line without full stop). The table of chart.c and the help of the command are made from it. */
#define HF_CHART_LIST(X)                                                                                     \
    X(card, ASSESSMENT, "the answer for all designs, in the shape in which a link is shown")                 \
    X(pulls, DESIGN, "every pull from held to failed, with bound and working load")                          \
    X(steps, DESIGN, "from the best single pull down to the working load")                                   \
    X(probability, PROBABILITY,                                                                              \
      "the pulls on probability paper, with the line of the law, what is promised of each share, and the "   \
      "bound")                                                                                               \
    X(sofar, SO_FAR, "the working load after each pull, and what more parts would bring")                    \
    X(label, LABEL, "a label to print and tie on, 90 by 50 mm; only where what is asked is met")             \
    X(bound, PLAN, "the bound to expect from 2, 3, … parts and the range chance leaves")                     \
    X(ladder, PLAN, "the rungs of the ladder under the guessed strengths")                                   \
    X(step, CURVE, "what finer or coarser steps cost")                                                       \
    X(ratios, COMPARISON,                                                                                    \
      "for each pair of designs the ratio of their strengths, its interval and the verdict")                 \
    X(league, COMPARISON, "all designs on one load axis, every pull and the bound, best bound first")        \
    X(modes, COMPARISON, "the ways of failing of each design and their shares")                              \
    X(scatter, EARLIER, "the scatter of each design of one or more files, by kind")

/* A kind of chart is one row. */
typedef struct hf_chart_kind {
    const char *name;    /* "pulls" */
    const char *summary; /* one line without full stop */
    bool needs_plan, needs_curve, needs_design, needs_assessment, needs_comparison, needs_so_far,
        needs_earlier;
    bool needs_probability; /* then also needs_design */
    /* NULL, or why nothing can be drawn. */
    const char *(*draw)(struct hf_chart *chart, const hf_chart_subject *subject);
} hf_chart_kind;

/* The table; *count rows. Static. */
const hf_chart_kind *hf_chart_kind_table(size_t *count);
const hf_chart_kind *hf_chart_kind_find(const char *name);
/* Name of row `at`, NULL past the last. */
const char *hf_chart_kind_name(size_t at);

/* Whether all that the kind needs is there. */
bool hf_chart_can_draw(const hf_chart_kind *kind, const hf_chart_subject *subject);

/* Appends the chart as one <svg> element, of class "hf-chart wide" or "hf-chart narrow". HF_NO_RESULT with words when there is nothing to draw (*out is then unchanged), HF_MEMORY. What the
 * kind needs must be there. */
hf_status hf_chart_draw(const hf_chart_kind *kind, const hf_chart_subject *subject,
                        const hf_report_style *style, hf_text *out, hf_error *error);

#endif
