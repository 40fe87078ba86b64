/* The strict scanner: checks the text by RFC 8259 and notes the place of everything. */
#ifndef HF_BASE_JSON_SCAN_H
#define HF_BASE_JSON_SCAN_H

#include "holdfast/base/json.h"

enum { HF_JSON_DEPTH = 64 };

/* Builds the tree of places for text[0..length): kinds, counts, links, lines, columns, bytes. Keys stand
 * as in the file, escapes unresolved; texts are left for hf_json_parse to fill in. */
hf_status hf_json_scan(hf_arena *arena, const char *file, const char *text, size_t length, hf_json **out,
                       hf_error *error);

#endif
