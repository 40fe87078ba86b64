/* A notebook: data, method, results and charts to read, and cells of Python that compute it all a second time.
 *
 * The format is nbformat 4.5. Nothing of the file can become markup, a formula or code: names stand as text, the file itself stands in one cell as a Python
 * literal. Numbers carry nine figures at most, so that the notebook is the same on every machine. */
#ifndef HOLDFAST_HANDOVER_NOTEBOOK_H
#define HOLDFAST_HANDOVER_NOTEBOOK_H

#include "holdfast/base/error.h"
#include "holdfast/words/report.h"
#include "holdfast/study/probability_plot.h"

typedef struct hf_notebook {
    const hf_campaign *campaign;
    const hf_findings *findings;
    const hf_assessment *assessment;               /* of all designs of the campaign */
    const hf_probability_plot *const *probability; /* one per assessed design */
    const hf_comparison *comparison;               /* of all designs; NULL: none */
    const char *command;                           /* the command line that makes it again */
} hf_notebook;

/* Appends the notebook. HF_OK, or HF_MEMORY and the errors of drawing with words. */
hf_status hf_notebook_write(const hf_notebook *notebook, const hf_report_style *style, hf_text *out,
                            hf_error *error);

#endif
