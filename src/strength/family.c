#include "holdfast/strength/family.h"

#include <math.h>
#include <string.h>
#include "strength/family_records.h"

static const hf_family *const rows[HF_FAMILY_COUNT] = {&hf_family_normal, &hf_family_lognormal,
                                                       &hf_family_weibull};

const hf_family *hf_family_at(size_t index) {
    return index < HF_FAMILY_COUNT ? rows[index] : NULL;
}

const hf_family *hf_family_find(const char *name) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (strcmp(rows[i]->name, name) == 0) return rows[i];
    return NULL;
}

double hf_family_working(const hf_family *family, double load) {
    return family->log_scale ? log(load) : load;
}

double hf_family_load(const hf_family *family, double y) {
    return family->log_scale ? exp(y) : y;
}
