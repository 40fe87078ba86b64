#include <math.h>
#include <stdio.h>
#include "words/words.h"
#include "words/json_report.h"

void hf_result_open(hf_result_writer *w, const char *key) {
    hf_json_open_object(&w->json, key);
    w->reason[w->json.depth] = NULL;
}

void hf_result_close(hf_result_writer *w) {
    const char *reason = w->reason[w->json.depth];
    if (reason) hf_json_add_text(&w->json, "reason", reason);
    hf_json_close(&w->json, false);
}

void hf_result_reason(hf_result_writer *w, const char *reason) {
    w->reason[w->json.depth] = reason;
}

static void add_null(hf_result_writer *w, const char *key, const char *reason) {
    char reason_key[80];
    if (!reason || !reason[0]) reason = "not_available";
    if (!w->reason[w->json.depth]) w->reason[w->json.depth] = reason;
    (void)snprintf(reason_key, sizeof reason_key, "%s_reason", key);
    hf_json_add_null(&w->json, key, NULL);
    hf_json_add_text(&w->json, reason_key, reason);
}

void hf_result_value(hf_result_writer *w, const char *key, double value, const char *reason) {
    if (isfinite(value))
        hf_json_add_number(&w->json, key, value);
    else
        add_null(w, key, reason);
}

void hf_result_text(hf_result_writer *w, const char *key, const char *text, const char *reason) {
    if (text)
        hf_json_add_text(&w->json, key, text);
    else
        add_null(w, key, reason);
}

void hf_result_load(hf_result_writer *w, const char *key, double newtons, const char *reason) {
    hf_result_value(w, key, hf_in_unit(w->style, newtons), reason);
}

void hf_result_location(hf_result_writer *w, const hf_family *family, const char *key, double m,
                        const char *reason) {
    double value = family->log_scale ? m - log(hf_unit_newtons(w->style->unit, w->style->gravity))
                                     : hf_in_unit(w->style, m);
    hf_result_value(w, key, value, reason);
}

void hf_result_spread(hf_result_writer *w, const hf_family *family, const char *key, double s,
                      const char *reason) {
    hf_result_value(w, key, family->log_scale ? s : hf_in_unit(w->style, s), reason);
}
