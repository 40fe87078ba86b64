/* Strict JSON with the place of everything.
 *
 * A person edits the campaign file by hand, so every finding must say where. The text is first scanned
 * strictly (UTF-8, RFC 8259, depth at most 64, no duplicate key, no \u0000, no number beyond double),
 * noting line, column and byte range of every key and value; a number may have at most 63 characters; then cJSON parses it and a parallel walk
 * ties values to places. Only src/base/json*.c includes cJSON. Nodes are read-only; edits are done on the text by
 * splicing at noted byte offsets, so every other byte stays as it was. */
#ifndef HOLDFAST_BASE_JSON_H
#define HOLDFAST_BASE_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/base/text.h"

typedef enum hf_json_kind {
    HF_JSON_NULL,
    HF_JSON_FALSE,
    HF_JSON_TRUE,
    HF_JSON_NUMBER,
    HF_JSON_TEXT,
    HF_JSON_ARRAY,
    HF_JSON_OBJECT
} hf_json_kind;

/* One value. Children of arrays and objects hang on `first` and go on by `next`, in document order. */
typedef struct hf_json {
    hf_json_kind kind;
    const char *key;  /* the member's name, NULL in arrays and at the root */
    const char *text; /* of a text, with escapes resolved; NULL otherwise */
    double number;    /* of a number */
    size_t count;     /* children */
    const struct hf_json *first, *next, *parent;
    size_t index;                /* place among the siblings, from 0 */
    size_t line, column;         /* of the value, from 1, column in characters */
    size_t key_line, key_column; /* of the key; 0 without one */
    size_t start, end;           /* bytes [start, end) of the value in the text */
    size_t key_start;            /* byte of the key's opening quote */
} hf_json;

/* From now on the memory of the JSON tree is counted with ours (memory.h). It sets the hooks of cJSON, which are one for the whole process:
 * for a program to call before its first thread, not for a library inside somebody else's. */
void hf_json_count_memory(void);

/* Parses text[0..length). On HF_OK *out lives in `arena`. HF_BAD_DATA with where {line, column, path} at
 * the first mistake otherwise. `file` is only carried into error->where. A byte order mark is a mistake. */
hf_status hf_json_parse(hf_arena *arena, const char *file, const char *text, size_t length,
                        const hf_json **out, hf_error *error);

/* The member `key` of an object (case-sensitive), or NULL. */
const hf_json *hf_json_get(const hf_json *object, const char *key);

/* Writes the path of a node ("designs[0].specimens[2].held", "" for the root) into out[size]. */
void hf_json_path(const hf_json *node, char *out, size_t size);

/* "a number", "a text", "an object" … for messages. */
const char *hf_json_kind_name(hf_json_kind kind);

/* --- Writing -------------------------------------------------------------------------------------
 * A small forward writer that indents by two spaces, never writes a non-finite number (it writes null and, beside
 * it, the member `<key>_reason`), and escapes everything that needs it. Call in document order. */
typedef struct hf_json_writer {
    hf_text *out;
    int depth;
    bool first[68];
    bool inline_level[68];
} hf_json_writer;

void hf_json_writer_start(hf_json_writer *writer, hf_text *out);
void hf_json_open_object(hf_json_writer *writer,
                         const char *key); /* key NULL inside arrays and at the root */
void hf_json_open_array(hf_json_writer *writer, const char *key);
void hf_json_close(hf_json_writer *writer, bool is_array);
void hf_json_add_text(hf_json_writer *writer, const char *key, const char *value); /* NULL value: null */
void hf_json_add_number(hf_json_writer *writer, const char *key, double value);    /* shortest round trip */
void hf_json_add_count(hf_json_writer *writer, const char *key, size_t value);
void hf_json_add_bool(hf_json_writer *writer, const char *key, bool value);
/* key: null, and a sibling "reason": the code why (once per object; none when reason or key is NULL). */
void hf_json_add_null(hf_json_writer *writer, const char *key, const char *reason);

/* Appends `value` as a quoted JSON text with all escapes. Bytes that are no UTF-8 stay as they are, so that a reader refuses them;
 * the writer above puts U+FFFD in their place. */
void hf_json_quote(hf_text *out, const char *value);
/* The same with U+FFFD in their place. */
void hf_json_quote_repaired(hf_text *out, const char *value);

/* --- Splicing ------------------------------------------------------------------------------------
 * One edit replaces bytes [start, end) by `replacement`; start = end inserts. Edits must not overlap; any order. Insertions at
 * one place stand in the order given. */
typedef struct hf_json_edit {
    size_t start, end;
    const char *replacement;
} hf_json_edit;

/* The text with all edits applied, appended to *out. HF_MEMORY or HF_OK; overlapping edits are asserted. */
hf_status hf_json_splice(const char *text, size_t length, const hf_json_edit *edits, size_t count,
                         hf_text *out);

#endif
