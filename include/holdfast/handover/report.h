/* The report that is handed on: the answer, then the evidence, in chapters.
 *
 * It computes nothing. Whatever it prints stands in the study. */
#ifndef HOLDFAST_HANDOVER_REPORT_H
#define HOLDFAST_HANDOVER_REPORT_H

#include "holdfast/study/study.h"
#include "holdfast/words/report.h"

extern const hf_report_kind hf_report_handover;       /* hf_study, with pairs, plots and outlook */
extern const hf_report_kind hf_report_handover_short; /* the same on two or three sheets */

#endif
