#include <math.h>
#include <stdio.h>
#include "base/version_number.h"
#include "report/document.h"
#include "report/json_report.h"

void hf_json_head(hf_json_writer *writer, const char *kind, const hf_campaign *campaign, const hf_report_style *style) {
    char format[64];
    (void)snprintf(format, sizeof format, "holdfast-%s/1", kind);
    hf_json_add_text(writer, "format", format);
    hf_json_add_text(writer, "version", HF_VERSION);
    if (!campaign) return;
    hf_json_add_text(writer, "file", campaign->file);
    hf_json_add_text(writer, "sha256", campaign->sha256);
    hf_json_add_text(writer, "title", campaign->title);
    hf_json_add_text(writer, "unit", style->unit->name);
    hf_json_add_number(writer, "gravity", style->gravity);
}

/* Keys within one object must differ, so the reason's key carries the name unless it is the object's only one. */
void hf_json_value(hf_json_writer *writer, const char *key, double value, const char *reason) {
    char reason_key[80];
    if (isfinite(value)) {
        hf_json_add_number(writer, key, value);
        return;
    }
    (void)snprintf(reason_key, sizeof reason_key, "%s_reason", key);
    hf_json_add_null(writer, key, NULL);
    hf_json_add_text(writer, reason_key, reason && reason[0] ? reason : "not_available");
}

void hf_json_load(hf_json_writer *writer, const hf_report_style *style, const char *key, double newtons, const char *reason) {
    hf_json_value(writer, key, hf_in_unit(style, newtons), reason);
}

void hf_json_location(hf_json_writer *writer, const hf_report_style *style, const hf_family *family, const char *key, double m,
                      const char *reason) {
    double value = family->log_scale ? m - log(hf_unit_newtons(style->unit, style->gravity)) : hf_in_unit(style, m);
    hf_json_value(writer, key, value, reason);
}

void hf_json_spread(hf_json_writer *writer, const hf_report_style *style, const hf_family *family, const char *key, double s,
                    const char *reason) {
    hf_json_value(writer, key, family->log_scale ? s : hf_in_unit(style, s), reason);
}
