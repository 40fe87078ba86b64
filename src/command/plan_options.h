/* Options that plan, plan next and sheet share, and how they become a question to the study. */
#ifndef HF_COMMAND_PLAN_OPTIONS_H
#define HF_COMMAND_PLAN_OPTIONS_H

#include "command/common.h"
#include "holdfast/study/plan.h"

typedef struct hf_plan_values {
    hf_option_value mean, cv, require, service_load, design_factor, assurance, step, max_n, looks, early,
        tare, rating, weights, dwell, handling, pilot_from, pilot_to;
} hf_plan_values;

extern const hf_option hf_plan_rows[];
/* In place of hf_subject_rows, for hf_subject_values. */
extern const hf_option hf_plan_subject_rows[];

/* Setup from the campaign (may be NULL) with everything said on the command line on top. Weights live in the request's arena. */
hf_status hf_plan_options_read(hf_request *request, const hf_plan_values *values,
                               const hf_subject_values *subject, const hf_promise_values *promise,
                               const hf_campaign *campaign, hf_plan_setup *setup);

/* "5:15", "5:15:2" or "5,10"; nothing where the option was not given. early NULL: none can be stated. HF_USAGE. */
hf_status hf_looks_read(hf_request *request, const hf_option_value *value, const hf_option_value *early,
                        hf_stated_looks *out);
/* Whole numbers of at most four digits parted by `mark`; 0 when the text is anything else. */
size_t hf_numbers_read(const char *text, char mark, size_t *out, size_t most);

#endif
