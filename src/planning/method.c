#include "holdfast/planning/method.h"

#include <math.h>
#include <string.h>
#include "holdfast/strength/order_statistic.h"

static const hf_planning_method methods[] = {
    {"formula", "middle of the step with the law's step allowance", 0.5, NAN, NULL},
    {"twelfth", "middle of the step with an allowance of h²/12", 0.5, 1.0 / 12, NULL},
    {"middle", "middle of the step as if it had been read exactly", 0.5, 0, NULL},
    {"failing_load", "the failing load as the strength", 1, 0, NULL},
    {"held_load", "the last load held as the strength", 0, 0, NULL},
    {"order_statistic", "order statistic of the loads held", 0, 0, hf_bound_order_statistic},
    {"hanson_koopmans", "stretched gap between two order statistics", 0, 0, hf_bound_hanson_koopmans},
};

enum { METHODS = sizeof methods / sizeof *methods };

const hf_planning_method *hf_planning_method_at(size_t index) {
    return index < METHODS ? &methods[index] : NULL;
}

const hf_planning_method *hf_planning_method_find(const char *name) {
    for (size_t i = 0; i < METHODS; i++)
        if (strcmp(methods[i].name, name) == 0) return &methods[i];
    return NULL;
}
