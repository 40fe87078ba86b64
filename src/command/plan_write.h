/* The plan into the campaign file that is the request's first word. */
#ifndef HF_COMMAND_PLAN_WRITE_H
#define HF_COMMAND_PLAN_WRITE_H

#include "command/common.h"
#include "holdfast/study/plan.h"

/* Writes the planned parts and ladders of its day and says so on stderr. */
hf_exit hf_plan_write(hf_request *request, const hf_plan *plan);

#endif
