#include <assert.h>
#include <math.h>
#include <string.h>
#include "holdfast/base/json.h"
#include "holdfast/base/number.h"

enum { DEEPEST = 64 };

void hf_json_writer_start(hf_json_writer *writer, hf_text *out) {
    memset(writer, 0, sizeof *writer);
    writer->out = out;
    writer->first[0] = true;
}

/* A result must stay valid JSON even when a file name is no UTF-8. */
void hf_json_quote_repaired(hf_text *out, const char *value) {
    hf_text whole = {0};
    for (size_t left = strlen(value), step; left > 0; value += step, left -= step) {
        size_t bytes = hf_text_character(value, left);
        step = bytes ? bytes : 1;
        if (bytes)
            hf_text_add_bytes(&whole, value, bytes);
        else
            hf_text_add(&whole, "\xEF\xBF\xBD"); /* U+FFFD, the replacement character */
    }
    hf_json_quote(out, whole.length ? whole.bytes : "");
    if (whole.failed) out->failed = true;
    hf_text_free(&whole);
}

void hf_json_quote(hf_text *out, const char *value) {
    hf_text_add(out, "\"");
    for (const char *at = value; *at;) {
        size_t plain = 0;
        while (at[plain] && at[plain] != '"' && at[plain] != '\\' && (unsigned char)at[plain] >= 0x20)
            plain++;
        hf_text_add_bytes(out, at, plain);
        at += plain;
        if (!*at) break;
        if (*at == '"' || *at == '\\')
            hf_text_addf(out, "\\%c", *at);
        else if (*at == '\n')
            hf_text_add(out, "\\n");
        else if (*at == '\t')
            hf_text_add(out, "\\t");
        else
            hf_text_addf(out, "\\u%04x", (unsigned)(unsigned char)*at);
        at++;
    }
    hf_text_add(out, "\"");
}

/* Comma, new line, indent and key of the next value. */
static void begin(hf_json_writer *writer, const char *key) {
    if (!writer->first[writer->depth]) hf_text_add(writer->out, ",");
    if (writer->depth > 0) {
        hf_text_add(writer->out, "\n");
        for (int i = 0; i < writer->depth; i++) hf_text_add(writer->out, "  ");
    }
    writer->first[writer->depth] = false;
    if (!key) return;
    hf_json_quote_repaired(writer->out, key);
    hf_text_add(writer->out, ": ");
}

static void open(hf_json_writer *writer, const char *key, const char *bracket) {
    begin(writer, key);
    hf_text_add(writer->out, bracket);
    assert(writer->depth < DEEPEST);
    writer->first[++writer->depth] = true;
}

void hf_json_open_object(hf_json_writer *writer, const char *key) {
    open(writer, key, "{");
}

void hf_json_open_array(hf_json_writer *writer, const char *key) {
    open(writer, key, "[");
}

void hf_json_close(hf_json_writer *writer, bool is_array) {
    bool empty = writer->first[writer->depth];
    assert(writer->depth > 0);
    writer->depth--;
    if (!empty) {
        hf_text_add(writer->out, "\n");
        for (int i = 0; i < writer->depth; i++) hf_text_add(writer->out, "  ");
    }
    hf_text_add(writer->out, is_array ? "]" : "}");
    if (writer->depth == 0) hf_text_add(writer->out, "\n");
}

void hf_json_add_text(hf_json_writer *writer, const char *key, const char *value) {
    begin(writer, key);
    if (value)
        hf_json_quote_repaired(writer->out, value);
    else
        hf_text_add(writer->out, "null");
}

void hf_json_add_number(hf_json_writer *writer, const char *key, double value) {
    char text[HF_NUMBER_SIZE];
    begin(writer, key);
    if (isfinite(value)) {
        hf_text_add(writer->out, hf_number_shortest(value, text));
        return;
    }
    hf_text_add(writer->out, "null");
    if (!key) return;
    hf_text reason_key = {0};
    hf_text_addf(&reason_key, "%s_reason", key);
    if (reason_key.failed)
        writer->out->failed = true;
    else
        hf_json_add_text(writer, reason_key.bytes, "not_finite");
    hf_text_free(&reason_key);
}

void hf_json_add_count(hf_json_writer *writer, const char *key, size_t value) {
    begin(writer, key);
    hf_text_addf(writer->out, "%zu", value);
}

void hf_json_add_bool(hf_json_writer *writer, const char *key, bool value) {
    begin(writer, key);
    hf_text_add(writer->out, value ? "true" : "false");
}

void hf_json_add_null(hf_json_writer *writer, const char *key, const char *reason) {
    begin(writer, key);
    hf_text_add(writer->out, "null");
    if (key && reason) hf_json_add_text(writer, "reason", reason);
}
