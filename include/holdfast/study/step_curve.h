/* What other steps than the planned one would cost.
 *
 * The plan says the price of its own step. Seen as a curve over the step size the price tells whether finer steps, more handling and
 * more minutes, would pay. Steps are in standard deviations of load, as guessed. */
#ifndef HOLDFAST_STUDY_STEP_CURVE_H
#define HOLDFAST_STUDY_STEP_CURVE_H

#include "holdfast/study/plan.h"

enum { HF_STEP_CURVE_POINTS = 9 };

typedef struct hf_step_curve {
    size_t count;                       /* 0: the plan has no price of a step */
    double step[HF_STEP_CURVE_POINTS];  /* ascending, > 0, in standard deviations */
    double ratio[HF_STEP_CURVE_POINTS]; /* of the margins with and without steps, see hf_step_price */
} hf_step_curve;

/* The prices at a fixed row of steps, for the parts, family, content and confidence of the plan. A plan without steps gives count 0 and HF_OK.
 * Else the status of hf_step_price_of. */
hf_status hf_step_curve_of(const hf_plan *plan, hf_step_curve *out);

#endif
