/* Cells as JSON, members in the order in which notebook programs write them, a line of text an item. */
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/json.h"
#include "handover/notebook_parts.h"

/* RFC 4648 section 4. */
static void add_base64(hf_text *out, const char *bytes, size_t length) {
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (size_t at = 0; at < length; at += 3) {
        uint32_t group = 0;
        size_t there = length - at < 3 ? length - at : 3;
        char four[5] = "====";
        for (size_t i = 0; i < 3; i++) group = group << 8 | (i < there ? (unsigned char)bytes[at + i] : 0U);
        for (size_t i = 0; i <= there; i++) four[i] = digits[group >> (18 - 6 * i) & 63U];
        hf_text_add(out, four);
    }
}

static void open_cell(hf_cell_writer *w, const char *type) {
    hf_json_open_object(&w->json, NULL);
    hf_json_add_text(&w->json, "cell_type", type);
}

static void close_cell(hf_cell_writer *w, const char *source) {
    size_t length = strlen(source);
    while (length > 0 && source[length - 1] == '\n') length--;
    hf_json_open_array(&w->json, "source");
    for (size_t at = 0; at < length;) {
        const char *end = memchr(source + at, '\n', length - at);
        size_t step = end ? (size_t)(end - (source + at)) + 1 : length - at;
        hf_text line = {0};
        hf_text_add_bytes(&line, source + at, step);
        hf_json_add_text(&w->json, NULL, line.bytes ? line.bytes : "");
        if (line.failed) w->json.out->failed = true;
        hf_text_free(&line);
        at += step;
    }
    hf_json_close(&w->json, true);
    hf_json_close(&w->json, false);
}

static void add_id(hf_cell_writer *w) {
    char id[32];
    (void)snprintf(id, sizeof id, "cell-%zu", ++w->count);
    hf_json_add_text(&w->json, "id", id);
}

static void add_metadata(hf_cell_writer *w, bool hidden) {
    hf_json_open_object(&w->json, "metadata");
    if (hidden) {
        hf_json_open_object(&w->json, "jupyter");
        hf_json_add_bool(&w->json, "source_hidden", true);
        hf_json_close(&w->json, false);
    }
    hf_json_close(&w->json, false);
}

void hf_cell_pictures(hf_cell_writer *w, const char *source, const hf_picture *pictures, size_t count) {
    hf_json_open_object(&w->json, NULL);
    if (count) hf_json_open_object(&w->json, "attachments");
    for (size_t i = 0; i < count; i++) {
        hf_text code = {0};
        add_base64(&code, pictures[i].svg, pictures[i].length);
        hf_json_open_object(&w->json, pictures[i].name);
        hf_json_add_text(&w->json, "image/svg+xml", code.bytes ? code.bytes : "");
        hf_json_close(&w->json, false);
        if (code.failed) w->json.out->failed = true;
        hf_text_free(&code);
    }
    if (count) hf_json_close(&w->json, false);
    hf_json_add_text(&w->json, "cell_type", "markdown");
    add_id(w);
    add_metadata(w, false);
    close_cell(w, source);
}

void hf_cell_markdown(hf_cell_writer *w, const char *source) {
    hf_cell_pictures(w, source, NULL, 0);
}

void hf_cell_code(hf_cell_writer *w, const char *source, bool hidden) {
    open_cell(w, "code");
    hf_json_add_null(&w->json, "execution_count", NULL);
    add_id(w);
    add_metadata(w, hidden);
    hf_json_open_array(&w->json, "outputs");
    hf_json_close(&w->json, true);
    close_cell(w, source);
}
