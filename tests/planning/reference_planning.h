/* Lines "name value standard_error" of reference_planning.txt (written by reference_planning.py). */
#ifndef HF_TESTS_PLANNING_REFERENCE_H
#define HF_TESTS_PLANNING_REFERENCE_H

#include <stdio.h>
#include <string.h>
#include "check_close.h"

typedef struct hf_told {
    double value, error;
} hf_told;

static inline hf_told hf_told_of(const char *name) {
    char line[200], word[120];
    hf_told out = {NAN, NAN};
    FILE *file = fopen(HF_TEST_DIR "/planning/reference_planning.txt", "r");
    ck_assert_ptr_nonnull(file);
    while (fgets(line, sizeof line, file))
        if (sscanf(line, "%119s %lf %lf", word, &out.value, &out.error) == 3 && strcmp(word, name) == 0) {
            fclose(file);
            return out;
        }
    fclose(file);
    ck_abort_msg("%s is not in reference_planning.txt", name);
    return out;
}

#endif
