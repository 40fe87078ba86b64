#include "holdfast/strength/family.h"

#include <math.h>
#include <string.h>

static const hf_family *const rows[HF_FAMILY_COUNT] = {
#define FAMILY_ROW(name) &hf_family_##name,
    HF_FAMILY_LIST(FAMILY_ROW)
#undef FAMILY_ROW
};

const hf_family *hf_family_at(size_t index) {
    return index < HF_FAMILY_COUNT ? rows[index] : NULL;
}

size_t hf_family_index(const hf_family *family) {
    size_t index = 0;
    while (index < HF_FAMILY_COUNT && rows[index] != family) index++;
    return index;
}

const hf_family *hf_family_find(const char *name) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (strcmp(rows[i]->name, name) == 0) return rows[i];
    return NULL;
}

bool hf_family_may_govern(const hf_family *family) {
    return family->factor != NULL;
}

const hf_family *hf_family_governing_at(size_t index) {
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++)
        if (hf_family_may_govern(rows[i]) && index-- == 0) return rows[i];
    return NULL;
}

const hf_family *hf_family_governing(const hf_family *stated) {
    return stated ? stated : &hf_family_weibull;
}

double hf_family_working(const hf_family *family, double load) {
    return family->log_scale ? log(load) : load;
}

double hf_family_load(const hf_family *family, double y) {
    return family->log_scale ? exp(y) : y;
}
