#include "command/day_letters.h"

#include <stdbool.h>

/* Strokes: top, upper left, upper right, middle, lower left, lower right, bottom. */
enum { TOP = 1, UPPER_LEFT = 2, UPPER_RIGHT = 4, MIDDLE = 8, LOWER_LEFT = 16, LOWER_RIGHT = 32, BOTTOM = 64 };

static const unsigned strokes[10] = {
    TOP | UPPER_LEFT | UPPER_RIGHT | LOWER_LEFT | LOWER_RIGHT | BOTTOM,
    UPPER_RIGHT | LOWER_RIGHT,
    TOP | UPPER_RIGHT | MIDDLE | LOWER_LEFT | BOTTOM,
    TOP | UPPER_RIGHT | MIDDLE | LOWER_RIGHT | BOTTOM,
    UPPER_LEFT | UPPER_RIGHT | MIDDLE | LOWER_RIGHT,
    TOP | UPPER_LEFT | MIDDLE | LOWER_RIGHT | BOTTOM,
    TOP | UPPER_LEFT | MIDDLE | LOWER_LEFT | LOWER_RIGHT | BOTTOM,
    TOP | UPPER_RIGHT | LOWER_RIGHT,
    TOP | UPPER_LEFT | UPPER_RIGHT | MIDDLE | LOWER_LEFT | LOWER_RIGHT | BOTTOM,
    TOP | UPPER_LEFT | UPPER_RIGHT | MIDDLE | LOWER_RIGHT | BOTTOM,
};

static bool is_figure(char c) {
    return c >= '0' && c <= '9';
}

size_t hf_letters_rows(size_t size) {
    return 2 * size + 1;
}

/* A figure: a stroke at each side, `size` + 1 between, a blank behind. */
static size_t width_of(char c, size_t size) {
    return is_figure(c) ? size + 4 : 1;
}

size_t hf_letters_columns(const char *text, size_t size) {
    size_t columns = 0;
    for (; *text; text++) columns += width_of(*text, size);
    return columns;
}

static void add_figure(unsigned lit, size_t size, size_t row, char *out) {
    bool upper = row <= size;
    unsigned across = row == 0 ? TOP : row == size ? MIDDLE : row == 2 * size ? BOTTOM : 0;
    *out++ = row && lit & (upper ? UPPER_LEFT : LOWER_LEFT) ? '|' : ' ';
    for (size_t i = 0; i < size + 1; i++) *out++ = lit & across ? '_' : ' ';
    *out++ = row && lit & (upper ? UPPER_RIGHT : LOWER_RIGHT) ? '|' : ' ';
    *out = ' ';
}

void hf_letters_row(const char *text, size_t size, size_t row, char out[HF_LETTERS_LINE]) {
    size_t at = 0;
    for (; *text && at + width_of(*text, size) < HF_LETTERS_LINE; at += width_of(*text, size), text++)
        if (is_figure(*text))
            add_figure(strokes[*text - '0'], size, row, out + at);
        else
            out[at] = row == 2 * size ? *text : ' ';
    out[at] = '\0';
}
