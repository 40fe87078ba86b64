/* Results as JSON with the fixed keys. */
#ifndef HF_REPORT_JSON_REPORT_H
#define HF_REPORT_JSON_REPORT_H

#include "holdfast/base/json.h"
#include "holdfast/report/report.h"

void hf_json_assess(const hf_assessment *result, const hf_report_style *style, hf_text *out);
void hf_json_factor(const hf_factor_result *result, const hf_report_style *style, hf_text *out);
void hf_json_check(const hf_campaign *campaign, const hf_findings *findings, const hf_report_style *style, hf_text *out);

/* The head of every result: format, version, and for results from a file its name, hash, unit. campaign may be NULL. */
void hf_json_head(hf_json_writer *writer, const char *kind, const hf_campaign *campaign, const hf_report_style *style);
/* A load in the unit shown; non-finite: null with the reason beside it. */
void hf_json_load(hf_json_writer *writer, const hf_report_style *style, const char *key, double newtons, const char *reason);
/* A plain number; non-finite: null with the reason beside it. */
void hf_json_value(hf_json_writer *writer, const char *key, double value, const char *reason);
/* A location on a family's working scale, in the unit shown; and a spread. */
void hf_json_location(hf_json_writer *writer, const hf_report_style *style, const hf_family *family, const char *key, double m, const char *reason);
void hf_json_spread(hf_json_writer *writer, const hf_report_style *style, const hf_family *family, const char *key, double s, const char *reason);

#endif
