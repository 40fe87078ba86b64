/* Lines "kind | numbers | numbers | expected numbers" of reference_comparing.txt. */
#ifndef HF_TESTS_COMPARING_REFERENCE_FILE_H
#define HF_TESTS_COMPARING_REFERENCE_FILE_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { HF_REFERENCE_NUMBERS = 128, HF_REFERENCE_LINE = 8192 };

typedef struct hf_reference {
    char kind[40];
    double values[3][HF_REFERENCE_NUMBERS];
    size_t count[3];
    int line;
} hf_reference;

static inline size_t hf_reference_numbers(const char *text, double *out) {
    size_t count = 0;
    for (char *end; count < HF_REFERENCE_NUMBERS; text = end, count++) {
        out[count] = strtod(text, &end);
        if (end == text) break;
    }
    return count;
}

/* The next line of `file` of which the kind starts with `kind`; 0 at the end. */
static inline int hf_reference_next(FILE *file, const char *kind, hf_reference *out) {
    char line[HF_REFERENCE_LINE];
    while (fgets(line, sizeof line, file)) {
        out->line++;
        char *bar = strstr(line, " | ");
        if (!bar || strncmp(line, kind, strlen(kind)) != 0) continue;
        snprintf(out->kind, sizeof out->kind, "%.*s", (int)(bar - line), line);
        for (int i = 0; i < 3; i++) {
            out->count[i] = hf_reference_numbers(bar + 3, out->values[i]);
            bar = strstr(bar + 1, " | ");
            if (!bar) return i == 2;
        }
        return 1;
    }
    return 0;
}

#endif
