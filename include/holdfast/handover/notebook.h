/* A notebook: data, method, results and charts to read, and cells of Python that compute it all a second time.
 *
 * The format is nbformat 4.5. Nothing of the file can become markup, a formula or code: names stand as text, the file itself stands in one cell as a Python
 * literal. Numbers carry nine figures at most, so that the notebook is the same on every machine. */
#ifndef HOLDFAST_HANDOVER_NOTEBOOK_H
#define HOLDFAST_HANDOVER_NOTEBOOK_H

#include "holdfast/base/error.h"
#include "holdfast/words/report.h"
#include "holdfast/study/study.h"

/* Appends the notebook of a study of all designs, with pairs and plots. HF_OK, or HF_MEMORY and the errors of drawing with words. */
hf_status hf_notebook_write(const hf_study *study, const hf_report_style *style, hf_text *out,
                            hf_error *error);

#endif
