/* The rungs of the ladder under the strengths that the guess expects. */
#include <math.h>
#include "chart/chart.h"

enum { POINTS = 121, LINES_MOST = 2, RUNGS_HIGH = 22 };

/* Share of parts that break per unit of load, from the guess, as heights between 0 and 1. */
static void fill_hill(const hf_chart *chart, const hf_guess *guess, hf_point *hill, hf_point *ground) {
    double highest = 0, width = (chart->x.high - chart->x.low) / (POINTS - 1),
           unit = hf_in_unit(chart->words.style, 1);
    for (size_t i = 0; i < POINTS; i++) {
        double at = chart->x.low + (double)i * width;
        double share = hf_guess_stronger(guess, fmax(at - width / 2, 0) / unit) -
                       hf_guess_stronger(guess, (at + width / 2) / unit);
        hill[i] = (hf_point){at, share};
        ground[i] = (hf_point){at, 0};
        highest = fmax(highest, share);
    }
    for (size_t i = 0; i < POINTS && highest > 0; i++) hill[i].y /= highest;
}

static void draw_rungs(hf_chart *chart, const hf_ladder *ladder) {
    double bottom = chart->plot.bottom;
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_ladder_rung *rung = &ladder->rungs[i];
        double x = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, rung->force));
        hf_mark_stroke(chart, (hf_point){x, bottom - RUNGS_HIGH}, (hf_point){x, bottom},
                       rung->coarse ? "g line dash" : "b line");
    }
}

static const char *finding(hf_chart *chart, const hf_ladder *ladder) {
    hf_document *d = &chart->words;
    return hf_chart_format(chart,
                           "%zu rungs from %s to %s, %zu of them coarse. %s of parts are expected to fail "
                           "before the first rung and %s to outlast "
                           "the last one.",
                           ladder->count, hf_chart_load(chart, ladder->loads[0]),
                           hf_chart_load(chart, ladder->loads[ladder->count - 1]), ladder->coarse_count,
                           hf_show_text(d, HF_AS_SHARE_ROUGH, ladder->below_first),
                           hf_show_text(d, HF_AS_SHARE_ROUGH, ladder->run_out));
}

static const char *title(hf_chart *chart, const hf_ladder *ladder) {
    return hf_chart_format(chart, "%s of the ladder, %s to %s, under the strengths guessed",
                           hf_chart_count(chart, ladder->count, "rung", "rungs"),
                           hf_chart_load(chart, ladder->loads[0]),
                           hf_chart_load(chart, ladder->loads[ladder->count - 1]));
}

static size_t fill_lines(hf_chart *chart, const hf_plan *plan, double top, hf_named_line lines[LINES_MOST]) {
    size_t count = 0;
    hf_document *d = &chart->words;
    lines[count++] = (hf_named_line){
        hf_in_unit(d->style, plan->setup.mean),
        hf_chart_format(chart, "guessed mean %s", hf_chart_load_stated(chart, plan->setup.mean)),
        "g line dot"};
    double rating = hf_in_unit(d->style, plan->setup.rating);
    if (isfinite(rating) && rating <= top)
        lines[count++] = (hf_named_line){
            rating, hf_chart_format(chart, "rig rating %s", hf_chart_load_stated(chart, plan->setup.rating)),
            "v line"};
    return count;
}

static void fill_key(hf_chart *chart, const hf_ladder *ladder, hf_key_entry *key, size_t *count) {
    size_t fine = ladder->count - ladder->coarse_count;
    *count = 0;
    if (ladder->coarse_count)
        key[(*count)++] = (hf_key_entry){hf_chart_format(chart, "%zu coarse %s", ladder->coarse_count,
                                                         ladder->coarse_count == 1 ? "rung" : "rungs"),
                                         HF_KEY_STROKE, "g line dash", false};
    if (fine)
        key[(*count)++] =
            (hf_key_entry){hf_chart_format(chart, "%zu fine %s", fine, fine == 1 ? "rung" : "rungs"),
                           HF_KEY_STROKE, "b line", false};
    key[(*count)++] = (hf_key_entry){"where parts break, as guessed", HF_KEY_BAND, "b line thin", false};
}

const char *hf_chart_ladder(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_plan *plan = subject->plan;
    const hf_ladder *ladder = &plan->ladder;
    hf_point hill[POINTS], ground[POINTS];
    hf_named_line lines[LINES_MOST];
    hf_key_entry key[3];
    hf_guess guess;
    size_t keys;
    if (!ladder->count)
        return "readings are continuous in this plan, there is no ladder (rig records, weights or a step "
               "make one)";
    if (hf_guess_of(hf_family_governing(plan->setup.family), plan->setup.mean, plan->setup.cv, &guess) !=
        HF_OK)
        return "there is no guess of mean and scatter";
    double top = hf_in_unit(chart->words.style,
                            fmax(ladder->loads[ladder->count - 1], hf_guess_quantile(&guess, 0.999)));
    size_t count = fill_lines(chart, plan, top * 1.2, lines);
    double above = 34 + hf_lanes_height(count);
    chart->plot = (hf_place_box){30, above, chart->width - (chart->narrow ? 30 : 40), above + 190};
    chart->x = hf_scale_linear(0, top, chart->plot.left, chart->plot.right);
    if (count > 1 && lines[1].value > chart->x.high) count = 1;
    chart->y =
        (hf_scale){HF_SCALE_LINEAR, NULL, 0, 1, chart->plot.bottom - RUNGS_HIGH - 6, chart->plot.top + 8};
    fill_hill(chart, &guess, hill, ground);
    fill_key(chart, ladder, key, &keys);
    double bottom = chart->plot.bottom + 46;
    hf_chart_open(chart, bottom + hf_key(chart, NAN, key, keys) + 6, title(chart, ladder),
                  finding(chart, ladder));
    hf_axis_bottom(chart, hf_chart_load_axis(chart, ""));
    hf_mark_band(chart, ground, hill, POINTS);
    hf_mark_line(chart, hill, POINTS, "b thin");
    draw_rungs(chart, ladder);
    hf_lines_upright(chart, lines, count);
    (void)hf_key(chart, bottom, key, keys);
    hf_chart_close(chart);
    return NULL;
}
