#include "holdfast/planning/published_coverage.h"

#include <math.h>
#include "planning/published_coverage_table.h"

static size_t distance(size_t a, size_t b) {
    return a > b ? a - b : b - a;
}

const hf_published_coverage *hf_published_coverage_nearest(const hf_family *family, double content,
                                                           double confidence, size_t n) {
    const hf_published_coverage *best = NULL;
    for (size_t i = 0; i < hf_published_coverage_count; i++) {
        const hf_published_coverage *row = &hf_published_coverage_table[i];
        if (row->family != family) continue;
        if (fabs(row->content - content) > 1e-9 || fabs(row->confidence - confidence) > 1e-9) continue;
        if (!best || distance(row->n, n) < distance(best->n, n)) best = row;
    }
    return best;
}

const hf_published_open *hf_published_open_nearest(const hf_family *family, double content, double confidence,
                                                   bool below, double share, size_t n) {
    const hf_published_open *best = NULL;
    for (size_t i = 0; i < hf_published_open_count; i++) {
        const hf_published_open *row = &hf_published_open_table[i];
        if (row->family != family || row->below != below) continue;
        if (fabs(row->content - content) > 1e-9 || fabs(row->confidence - confidence) > 1e-9) continue;
        double apart = fabs(row->share - share), least = best ? fabs(best->share - share) : INFINITY;
        bool as_near = fabs(apart - least) <= 1e-12;
        if (!best || apart < least - 1e-12 || (as_near && distance(row->n, n) < distance(best->n, n)))
            best = row;
    }
    return best;
}
