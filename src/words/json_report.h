/* Results as JSON with the fixed keys.
 *
 * Every null has its cause beside it: `<key>_reason` for that value, and in the same object `reason`, the cause of the object's first
 * null (or a reason the object has of its own). */
#ifndef HF_WORDS_JSON_REPORT_H
#define HF_WORDS_JSON_REPORT_H

#include "holdfast/base/json.h"
#include "holdfast/words/report.h"

enum { HF_RESULT_DEPTH = 68 };

typedef struct hf_result_writer {
    hf_json_writer json;
    const hf_report_style *style;
    const char *reason[HF_RESULT_DEPTH]; /* of the open object at each depth; NULL: no null in it so far */
} hf_result_writer;

/* The result as JSON by the table of its kind, see json_fields.h. */
void hf_report_json(const hf_report_kind *kind, const void *result, const hf_report_style *style,
                    hf_text *out);

/* Objects are opened and closed by these, so that `reason` gets in. */
void hf_result_open(hf_result_writer *w, const char *key);
void hf_result_close(hf_result_writer *w);
/* The object's own reason. */
void hf_result_reason(hf_result_writer *w, const char *reason);
/* A plain number and a text that may be absent: null with the reason beside it. */
void hf_result_value(hf_result_writer *w, const char *key, double value, const char *reason);
void hf_result_text(hf_result_writer *w, const char *key, const char *text, const char *reason);
/* A load in the unit shown; a location and a spread on a family's working scale, in the unit shown. */
void hf_result_load(hf_result_writer *w, const char *key, double newtons, const char *reason);
void hf_result_location(hf_result_writer *w, const hf_family *family, const char *key, double m,
                        const char *reason);
void hf_result_spread(hf_result_writer *w, const hf_family *family, const char *key, double s,
                      const char *reason);

/* The array `cautions`: code, title, rank, words, and the values by name. */
void hf_result_cautions(hf_result_writer *w, const hf_cautions *list);

#endif
