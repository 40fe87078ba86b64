/* Results in words, tables and numbers for others.
 *
 * A format is one record: name and one function per kind of result. Reports compute nothing: whatever is
 * printed stands in the result struct. */
#ifndef HOLDFAST_REPORT_REPORT_H
#define HOLDFAST_REPORT_REPORT_H

#include <stdbool.h>
#include "holdfast/base/text.h"
#include "holdfast/load/unit.h"
#include "holdfast/study/assess.h"

typedef struct hf_report_style {
    const hf_unit *unit; /* loads are shown in it */
    double gravity;
    size_t width; /* columns of a terminal, 80 when unknown */
    bool color;
} hf_report_style;

/* One factor as `factor` prints it. */
typedef struct hf_factor_result {
    const hf_family *family;
    size_t n;
    double content, confidence, k, standard_error;
} hf_factor_result;

typedef struct hf_report_format {
    const char *name; /* "text", "json", "md" */
    void (*assess)(const hf_assessment *result, const hf_report_style *style, hf_text *out);
    void (*factor)(const hf_factor_result *result, const hf_report_style *style, hf_text *out);
    void (*check)(const hf_campaign *campaign, const hf_findings *findings, const hf_report_style *style,
                  hf_text *out);
} hf_report_format;

/* The table; *count rows. Static. */
const hf_report_format *hf_report_format_table(size_t *count);
const hf_report_format *hf_report_format_find(const char *name);

/* Words of one caution in the unit of `style`, appended to *out (no newline): what it is and what to do. Unknown code: its ready
 * message, else the code itself. Names of the file stand in it as they are. */
void hf_report_caution(const hf_caution *caution, const hf_report_style *style, hf_text *out);

/* Whether the word table has a row for this code. */
bool hf_report_caution_known(const char *code);

/* A few words that name the caution ("Coarse steps"), or NULL for an unknown code. Static. */
const char *hf_report_caution_title(const char *code);

#endif
