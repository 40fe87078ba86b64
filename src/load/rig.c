#include "holdfast/load/rig.h"

#include <math.h>

static double along(const hf_rig_force *rig) {
    return cos(rig->angle_deg * (3.14159265358979323846 / 180));
}

double hf_rig_force_of_record(const hf_rig_force *rig, double record) {
    if (rig->records == HF_RIG_RECORDS_ADDED) record = record * rig->advantage + rig->tare;
    return record * along(rig);
}

double hf_rig_line_of_force(const hf_rig_force *rig, double force) {
    return force / along(rig);
}

double hf_rig_added_of_force(const hf_rig_force *rig, double force) {
    return (hf_rig_line_of_force(rig, force) - rig->tare) / rig->advantage;
}

double hf_rig_force_of_peak(const hf_rig_force *rig, double peak) {
    return peak * along(rig);
}

/* GUM (JCGM 100:2008) 4.3: rectangular limits ÷ √3, expanded with k = 2 ÷ 2. */
double hf_uncertainty_at(const hf_uncertainty *line, double load) {
    double share = line->relative > 0 ? line->relative : line->load / load;
    if (line->kind == HF_UNCERTAINTY_TOLERANCE) return share / sqrt(3);
    return line->kind == HF_UNCERTAINTY_EXPANDED ? share / 2 : share;
}

double hf_uncertainty_combined(const hf_uncertainty *lines, size_t count, double load) {
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        double share = hf_uncertainty_at(&lines[i], load);
        sum += share * share;
    }
    return sqrt(sum);
}
