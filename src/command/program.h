/* What the generated pages say about the program as a whole. */
#ifndef HF_COMMAND_PROGRAM_H
#define HF_COMMAND_PROGRAM_H

#include "holdfast/command/command.h"

/* Name and what it is; arrays end with a NULL name. */
typedef struct hf_program_row {
    const char *name, *text;
} hf_program_row;

extern const char hf_program_summary[];
extern const char *const hf_program_description[]; /* paragraphs, ending with NULL */
extern const char *const hf_program_limits[]; /* safety limits, one sentence group each, ending with NULL */
extern const hf_program_row hf_program_environment[];
extern const hf_program_row hf_program_files[];

/* Appends "-o, --output FILE". */
void hf_program_option_label(const hf_option *option, hf_text *out);

/* Paragraph `at` of a description whose paragraphs are parted by an empty line: its start and length;
 * false past the last. */
bool hf_program_paragraph(const char *description, size_t at, const char **start, size_t *length);

#endif
