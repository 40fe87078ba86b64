/* Random small campaigns, and the same one written in other ways. */
#ifndef HF_TESTS_STUDY_RANDOM_CAMPAIGN_H
#define HF_TESTS_STUDY_RANDOM_CAMPAIGN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/text.h"

enum { HF_TEST_DESIGNS = 2, HF_TEST_PULLS = 9 };

typedef enum hf_test_kind {
    HF_TEST_STEP,
    HF_TEST_FIRST_RUNG,
    HF_TEST_HELD,
    HF_TEST_RIG,
    HF_TEST_PEAK,
    HF_TEST_VOID,
    HF_TEST_PLANNED
} hf_test_kind;

/* Loads in the unit of the campaign, before the tare. */
typedef struct hf_test_pull {
    hf_test_kind kind;
    double held, failed, set_held, set_seen; /* set_held 0: not watched */
    bool dropped;
    int batch, mode; /* −1: not stated */
} hf_test_pull;

typedef struct hf_test_design {
    hf_test_pull pulls[HF_TEST_PULLS];
    size_t count;
    const char *family; /* NULL: not stated */
    double cv, degrees; /* cv 0: no scatter stated; degrees 0: assumed */
} hf_test_design;

typedef struct hf_test_campaign {
    hf_test_design designs[HF_TEST_DESIGNS];
    bool mass; /* kg, else N */
    double tare, resolution, service, required, factor;
} hf_test_campaign;

/* How it is written. */
typedef struct hf_test_writing {
    uint64_t shuffle;  /* order of the parts; 0: as made */
    bool smaller_unit; /* g for kg, kN for N */
    double scale;      /* of every load */
    int only;          /* one design alone; −1: all */
    bool reversed;     /* designs the other way round */
    bool more_void;    /* with one void part more in each design */
} hf_test_writing;

hf_test_campaign hf_test_campaign_of(uint64_t seed);
void hf_test_write(const hf_test_campaign *campaign, const hf_test_writing *how, hf_text *out);

#endif
