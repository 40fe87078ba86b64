/* Rows of a reference file: a name, up to three numbers, and the expected value. */
#ifndef HF_TESTS_NUMERIC_TABLE_H
#define HF_TESTS_NUMERIC_TABLE_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "check_close.h"

typedef struct table_row {
    char name[40];
    double argument[3];
    int arguments;
    double value;
    char source[160];
} table_row;

static inline void table_read_row(char *line, table_row *row) {
    line[strcspn(line, "\n")] = '\0';
    (void)snprintf(row->source, sizeof row->source, "mpmath: %.140s", line);
    char *field = line, *next = strchr(field, ',');
    ck_assert_ptr_nonnull(next);
    *next = '\0';
    (void)snprintf(row->name, sizeof row->name, "%.39s", field);
    row->arguments = 0;
    for (int i = 0; i < 3; i++) {
        field = next + 1;
        next = strchr(field, ',');
        ck_assert_ptr_nonnull(next);
        if (next != field) row->argument[row->arguments++] = strtod(field, NULL);
    }
    char *end;
    row->value = strtod(next + 1, &end);
    ck_assert_msg(end != next + 1 && *end == '\0', "no number at the end of: %s", row->source);
}

/* Calls use(row) for each row and returns how many there were. */
static inline int table_each(const char *file, void (*use)(const table_row *row)) {
    char path[400], line[400];
    (void)snprintf(path, sizeof path, "%s/numeric/%s", HF_TEST_DIR, file);
    FILE *in = fopen(path, "r");
    ck_assert_msg(in != NULL, "cannot open %s", path);
    int rows = -1; /* the heading does not count */
    while (fgets(line, sizeof line, in) != NULL) {
        if (line[0] == '#') continue;
        if (rows++ < 0) continue;
        table_row row;
        table_read_row(line, &row);
        use(&row);
    }
    (void)fclose(in);
    return rows;
}

#endif
