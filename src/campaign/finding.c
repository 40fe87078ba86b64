#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "campaign/reader.h"

/* Texts of the file are UTF-8; a cut in the middle of a character is mended by dropping what is left of it. */
static char *whole_characters(hf_arena *arena, const char *text) {
    size_t length = strlen(text), kept = 0;
    char *out = hf_arena_text(arena, text, length);
    for (size_t at = 0; out && at < length;) {
        unsigned char c = (unsigned char)text[at];
        size_t wanted = c < 0x80 ? 1 : c >= 0xF0 ? 4 : c >= 0xE0 ? 3 : c >= 0xC0 ? 2 : 0, have = 1;
        while (have < wanted && at + have < length && ((unsigned char)text[at + have] & 0xC0) == 0x80) have++;
        if (have == wanted) {
            memmove(out + kept, text + at, have);
            kept += have;
        }
        at += have;
    }
    if (out) out[kept] = '\0';
    return out;
}

void hf_reader_find(hf_reader *reader, hf_finding finding, const hf_json *node) {
    hf_findings *list = reader->findings;
    char path[HF_PATH_SIZE] = "";
    if (node) hf_json_path(node, path, sizeof path);
    finding.path = whole_characters(reader->arena, path);
    if (finding.message) finding.message = whole_characters(reader->arena, finding.message);
    if (node && !finding.line) {
        finding.line = node->line;
        finding.column = node->column;
    }
    if (list->count == list->capacity) {
        size_t capacity = list->capacity ? 2 * list->capacity : 16;
        hf_finding *items = HF_ARENA_NEW_ARRAY(reader->arena, hf_finding, capacity);
        if (!items) {
            reader->out_of_memory = true;
            return;
        }
        if (list->count) memcpy(items, list->items, list->count * sizeof *items);
        list->items = items;
        list->capacity = capacity;
    }
    if (!finding.path || !finding.message)
        reader->out_of_memory = true;
    else
        list->items[list->count++] = finding;
    list->errors += finding.severity == HF_SEVERITY_ERROR;
}

void hf_reader_error(hf_reader *reader, const hf_json *node, const char *format, ...) {
    char message[HF_MESSAGE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(message, sizeof message, format, arguments);
    va_end(arguments);
    hf_finding finding = {.severity = HF_SEVERITY_ERROR, .code = "error"};
    finding.message = hf_arena_text(reader->arena, message, strlen(message));
    hf_reader_find(reader, finding, node);
}

/* Control characters in a message would break its one line, or turn it round on a terminal. */
static void add_plain(hf_text *out, const char *text) {
    while (*text) {
        size_t control = hf_text_control(text);
        if (control)
            hf_text_add(out, "?");
        else
            hf_text_add_bytes(out, text, 1);
        text += control ? control : 1;
    }
}

void hf_finding_print(const hf_finding *finding, const char *file, hf_text *out) {
    add_plain(out, file);
    hf_text_addf(out, ":%zu:%zu: %s: ", finding->line, finding->column,
                 finding->severity == HF_SEVERITY_ERROR ? "error" : "warning");
    if (finding->path && finding->path[0]) {
        add_plain(out, finding->path);
        hf_text_add(out, ": ");
    }
    add_plain(out, finding->message);
    hf_text_add(out, "\n");
}
