/* A text that grows.
 *
 * Everything printed is first built here and then written in one go, so that an error half-way leaves
 * no half output. A failed allocation is remembered (`failed`) and later additions do nothing; the writer
 * checks once at the end. */
#ifndef HOLDFAST_BASE_TEXT_H
#define HOLDFAST_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

typedef struct hf_text {
    char *bytes;   /* zero-terminated when length > 0; NULL when empty */
    size_t length; /* without the terminating zero */
    size_t capacity;
    bool failed;
} hf_text;

/* Start with `hf_text text = {0};`. Give back with hf_text_free (NULL allowed). */
void hf_text_free(hf_text *text);
void hf_text_add(hf_text *text, const char *bytes);
void hf_text_add_bytes(hf_text *text, const char *bytes, size_t length);
/* `lines`: NULL-terminated. */
void hf_text_add_lines(hf_text *text, const char *const *lines);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void hf_text_addf(hf_text *text, const char *format, ...);

/* Columns that `text` (UTF-8) takes on a terminal: one per character, none for combining marks, two for
 * wide East Asian characters and emoji. Bytes that are no UTF-8 count one each. */
size_t hf_text_columns(const char *text);

/* Bytes (1 to 4) of the UTF-8 character that bytes[0..length) begins with, or 0 when it begins with none (RFC 3629: no overlong
 * form, no surrogate, nothing above U+10FFFF, not cut off). */
size_t hf_text_character(const char *bytes, size_t length);

/* Bytes of the control character that the zero-terminated `text` begins with, 0 when it begins with none: C0, delete, C1, the separators
 * of lines and paragraphs, and what turns the direction of writing, with which a text could be made to read as another. */
size_t hf_text_control(const char *text);

/* Adds bytes[0..length) as a terminal may be given them: what it could take for an order, or what is no UTF-8, is written as \u001b or
 * \xff. Line ends and tabs stay; with `colors` also "ESC [ digits m". */
void hf_text_add_visible(hf_text *text, const char *bytes, size_t length, bool colors);

/* Adds `words` (UTF-8, single line) to `text`, wrapped at `width` columns; the first line starts after
 * `first`, the others after `rest`; ends with a newline. A word longer than the line stands alone. */
void hf_text_wrap(hf_text *text, const char *words, size_t width, const char *first, const char *rest);

/* Bytes of `text` (UTF-8) that fit into `columns` columns, never cutting a character. */
size_t hf_text_cut(const char *text, size_t columns);

/* The candidate nearest to `word` by edit distance (without regard to case; a swap of neighbours counts once), or NULL when none is within a third of
 * the word's length plus one, or none shares anything with it. Of equally near ones the first. */
const char *hf_text_nearest(const char *word, const char *const *candidates, size_t count);

#endif
