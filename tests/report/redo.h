/* Redoes printed sums from the print alone, with plain doubles, as somebody with a pocket calculator would. */
#ifndef HF_TESTS_REPORT_REDO_H
#define HF_TESTS_REPORT_REDO_H

#include <stdbool.h>
#include <stddef.h>

typedef struct redone {
    double value;   /* of the expression, redone */
    double printed; /* the result that stands behind the last "=" */
    double unit;    /* one unit of its last printed digit */
    int fewest,
        most; /* significant figures of the numbers inside (constants of fewer than 5 figures without a point not counted) */
} redone;

/* One line "label = EXPRESSION = RESULT unit" or "label: EXPRESSION = RESULT unit". False when it is no such line. */
bool redo_line(const char *line, redone *out);

/* Redoes every sum line of a report (lines that begin with two spaces and hold " = "); asserts that each is within one unit of its last
 * printed digit, and exactly what the line gives rounded down where the report says so. Returns how many there were. `about` stands in the message of a failure. */
size_t redo_all(const char *report, const char *about);

#endif
