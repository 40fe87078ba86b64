/* Figures that are read from three steps away: seven strokes of plain characters each. */
#ifndef HF_COMMAND_DAY_LETTERS_H
#define HF_COMMAND_DAY_LETTERS_H

#include <stddef.h>

enum { HF_LETTERS_LINE = 256 };

/* Rows that figures of this size take; columns that `text` takes. */
size_t hf_letters_rows(size_t size);
size_t hf_letters_columns(const char *text, size_t size);

/* Row `row` of `text`, of which figures and points are drawn large and everything else stands as it is in the last row. */
void hf_letters_row(const char *text, size_t size, size_t row, char out[HF_LETTERS_LINE]);

#endif
