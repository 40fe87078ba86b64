/* The report that is handed on: the answer, then the evidence, in chapters.
 *
 * It computes nothing. Whatever it prints stands in the hf_handover that the study made. */
#ifndef HOLDFAST_HANDOVER_REPORT_H
#define HOLDFAST_HANDOVER_REPORT_H

#include "holdfast/study/handover.h"
#include "holdfast/words/report.h"

extern const hf_report_kind hf_report_handover; /* hf_handover */

#endif
