/* Options that plan, plan next and sheet share, and how they become a question to the study. */
#ifndef HF_COMMAND_PLAN_OPTIONS_H
#define HF_COMMAND_PLAN_OPTIONS_H

#include "command/common.h"
#include "holdfast/study/plan.h"

typedef struct hf_plan_values {
    hf_option_value mean, cv, require, assurance, step, max_n, looks, early, tare, rating, weights, dwell,
        handling, pilot_from, pilot_to;
} hf_plan_values;

extern const hf_option hf_plan_rows[];
/* In place of hf_subject_rows, for hf_subject_values. */
extern const hf_option hf_plan_subject_rows[];

/* Setup from the campaign (may be NULL) with everything said on the command line on top. Weights live in the request's arena. */
hf_status hf_plan_options_read(hf_request *request, const hf_plan_values *values,
                               const hf_subject_values *subject, const hf_promise_values *promise,
                               const hf_campaign *campaign, hf_plan_setup *setup);

#endif
