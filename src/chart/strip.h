/* The strip of one design: a bar to the working load, a line to the bound, a mark for every pull from held to failed, an arrow for one that is
 * still whole. Strips of several designs lie on one load axis from 0. */
#ifndef HF_CHART_STRIP_H
#define HF_CHART_STRIP_H

#include "chart/chart.h"
#include "words/glance.h"

typedef struct hf_strip_range {
    double most,
        outlasted; /* in the unit shown: the greatest load of any strip; that a part outlasted, −∞: none did */
} hf_strip_range;

hf_strip_range hf_strip_measure(const hf_chart *chart, const hf_glance *glances, size_t count);
/* The load axis between the plot's left and right side. */
void hf_strip_scale(hf_chart *chart, hf_strip_range range);
void hf_strip_draw(hf_chart *chart, const hf_glance *glance, double top, double height);

#endif
