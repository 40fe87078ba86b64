/* The pulls on probability paper: do they follow the law that is fitted to them?
 *
 * On the paper of a law its line is straight. Against it stand the pulls, each at the share of parts that is estimated to have failed by
 * then, without any law; and below it the lower tolerance bound of every share, by the method of the bound itself, so that the bound
 * of the answer lies on that curve. Loads are newtons. */
#ifndef HOLDFAST_STUDY_PROBABILITY_PLOT_H
#define HOLDFAST_STUDY_PROBABILITY_PLOT_H

#include <stdbool.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"
#include "holdfast/study/assess.h"

enum { HF_PROBABILITY_POINTS = 61, HF_PROBABILITY_PULLS = 2000, HF_TOLERANCE_POINTS = 12 };

/* One pull. A part that is still whole has no place on the paper: its shares are NaN. Pulls with the same ends have the same place, but for
 * equal exact readings, which share their jump. */
typedef struct hf_probability_mark {
    hf_interval_kind kind;
    double lower, upper; /* N; upper INFINITY where the part is whole */
    double share;        /* plotting position in (0, 1) on a linear axis of loads */
    double share_log;    /* on a logarithmic one: another middle of lower and upper, so another share */
} hf_probability_mark;

/* Where the mark stands, N: the middle of held and failed on that axis, the reading, or the first load where the part failed there; NaN where
 * it is whole. */
double hf_probability_mark_load(const hf_probability_mark *mark, bool log_scale);

/* The line of one law: for the share failed[i] of parts, ascending, the load by which they have failed. */
typedef struct hf_probability_line {
    const hf_family *family;
    bool available; /* the fit has its maximum and its standard errors */
    double failed[HF_PROBABILITY_POINTS];
    double load[HF_PROBABILITY_POINTS];
} hf_probability_line;

/* Lower tolerance bounds of rising shares, at the confidence of the answer: at most failed[i] of all parts fail below load[i]. */
typedef struct hf_tolerance_curve {
    size_t count; /* 0: no such curve, as the bound is of no law */
    double failed[HF_TOLERANCE_POINTS], load[HF_TOLERANCE_POINTS];
} hf_tolerance_curve;

typedef struct hf_probability_plot {
    const char *reason; /* NULL, or why there is nothing to plot, as words */
    const hf_probability_mark
        *marks; /* the failed ones by rising share, then the whole ones by rising load */
    size_t count, failed;
    double least, most;    /* shares between which the lines reach; all marks and 1 − content lie within */
    double confidence;     /* of the tolerance curve, one-sided, for each share by itself */
    const hf_family *law;  /* whose paper it is: as asked, else of the law that governs */
    const hf_bound *bound; /* that lies on the curve; NULL: there is none */
    hf_tolerance_curve tolerance;
    hf_probability_line lines[HF_FAMILY_COUNT]; /* in the order of the family table */
} hf_probability_plot;

/* The plot of an assessed design (its break event) on the paper of `law` (NULL: of the one that governs, else of the one by rule). HF_OK, also
 * with a reason; HF_MEMORY; HF_NUMERIC when the shares are not found. */
hf_status hf_probability_plot_of(hf_arena *arena, const hf_assessment *assessment,
                                 const hf_design_assessment *design, const hf_family *law,
                                 const hf_probability_plot **out);

/* The parts of it, for whoever has pulls of another origin. Marks of a sample of 1 … HF_PROBABILITY_PULLS pulls, in the arena, order as
 * above; *failed of them have failed. HF_NO_RESULT for an empty sample, HF_NUMERIC, HF_MEMORY. */
hf_status hf_probability_marks(hf_arena *arena, hf_sample sample, const hf_probability_mark **out,
                               size_t *failed);

/* Load by which the share `failed` of parts has failed, by this fit. */
double hf_probability_line_at(const hf_fit *fit, double failed);

#endif
