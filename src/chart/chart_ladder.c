/* The rungs of the ladder under the strengths that the guess expects. */
#include <math.h>
#include "chart/chart.h"

enum {
    POINTS = 121,
    LINES_MOST = 2,
    RUNGS_HIGH = 22,
    PILES = 46,      /* height below the axis for what hangs */
    PULLS_HIGH = 70, /* above the strengths guessed */
    KEYS_MOST = 5
};

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

/* Whether weights make the rungs; else any load can be made. */
static bool has_piles(const hf_plan *plan) {
    return plan->kinds && plan->ladder.rungs[plan->ladder.count - 1].weights.total > 0;
}

static double under(const hf_plan *plan) {
    return has_piles(plan) ? PILES : 0;
}

static void draw_rungs(hf_chart *chart, const hf_plan *plan) {
    const hf_ladder *ladder = &plan->ladder;
    double bottom = chart->plot.bottom - under(plan);
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_ladder_rung *rung = &ladder->rungs[i];
        double x = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, rung->force));
        hf_mark_stroke(chart, (hf_point){x, bottom - RUNGS_HIGH}, (hf_point){x, bottom},
                       rung->coarse ? "g line dash" : "b line");
    }
}

/* One kind of weight at one rung: a block for each piece, as high as it is heavy; pieces too light to be told apart are one. */
static double draw_pieces(hf_chart *chart, hf_place_box box, double high, int count) {
    if (high < 2) {
        high *= count;
        count = high > 0;
    }
    for (int n = 0; n < count; n++, box.top += high) {
        box.bottom = box.top + fmax(high - 1, 0.5);
        hf_mark_rectangle(chart, box, "fb");
    }
    return box.top;
}

/* What hangs at each rung, piled downwards, in the order in which the weights are stated. */
static void draw_piles(hf_chart *chart, const hf_plan *plan, double top) {
    const hf_ladder *ladder = &plan->ladder;
    double heaviest = (double)ladder->rungs[ladder->count - 1].weights.total, apart = INFINITY,
           last = -INFINITY;
    for (size_t i = 0; i < ladder->count; i++) {
        double x = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, ladder->loads[i]));
        if (i) apart = fmin(apart, x - last);
        last = x;
    }
    double half = fmin(7, fmax(1, 0.4 * apart));
    for (size_t i = 0; i < ladder->count; i++) {
        double x = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, ladder->loads[i])), y = top;
        for (size_t k = 0; k < plan->setup.weight_count; k++)
            y = draw_pieces(chart, (hf_place_box){x - half, y, x + half, y},
                            (double)plan->kinds[k].value / heaviest * (PILES - 4),
                            ladder->rungs[i].weights.count[k]);
    }
}

/* The design that climbs this ladder, once it has pulls; else NULL. */
static const hf_design *pulled(const hf_plan *plan) {
    if (!plan->campaign) return NULL;
    hf_error unknown;
    hf_error_clear(&unknown);
    const hf_design *design = plan->setup.design
                                  ? hf_campaign_find_design(plan->campaign, plan->setup.design, &unknown)
                                  : &plan->campaign->designs[0];
    for (size_t i = 0; design && i < design->specimen_count; i++)
        if (design->specimens[i].pull.kind != HF_INTERVAL_NONE) return design;
    return NULL;
}

/* What its parts did, in the order of the file: over the ladder they climbed. */
static void draw_pulls(hf_chart *chart, const hf_design *design, double top) {
    size_t count = 0, at = 0;
    for (size_t i = 0; i < design->specimen_count; i++)
        count += design->specimens[i].pull.kind != HF_INTERVAL_NONE;
    double row = PULLS_HIGH / fmax(1, (double)count);
    for (size_t i = 0; i < design->specimen_count; i++) {
        const hf_pull *pull = &design->specimens[i].pull;
        hf_mark_hover(chart, hf_chart_cut(chart, design->specimens[i].id, 200));
        if (pull->kind == HF_INTERVAL_NONE) continue;
        double y = top + ((double)at++ + 0.5) * row,
               from = hf_scale_place(&chart->x, hf_in_unit(chart->words.style, pull->lower));
        const char *look = row >= 4 ? "pull bar" : "pull line thin";
        if (pull->kind == HF_INTERVAL_ABOVE)
            hf_mark_arrow(chart, (hf_point){from, y}, from + 16, "pull line");
        else
            hf_mark_stroke(
                chart, (hf_point){from, y},
                (hf_point){hf_scale_place(&chart->x, hf_in_unit(chart->words.style, pull->upper)), y}, look);
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

static void fill_key(hf_chart *chart, const hf_plan *plan, const hf_design *design, hf_key_entry *key,
                     size_t *count) {
    const hf_ladder *ladder = &plan->ladder;
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
    if (design) key[(*count)++] = (hf_key_entry){"pulls, held to failed", HF_KEY_STROKE, "pull bar", false};
    if (has_piles(plan))
        key[(*count)++] = (hf_key_entry){"under a rung: what hangs", HF_KEY_NOTE, NULL, false};
}

const char *hf_chart_ladder(hf_chart *chart, const hf_chart_subject *subject) {
    const hf_plan *plan = subject->plan;
    const hf_ladder *ladder = &plan->ladder;
    hf_point hill[POINTS], ground[POINTS];
    hf_named_line lines[LINES_MOST];
    hf_key_entry key[KEYS_MOST];
    const hf_design *design = pulled(plan);
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
    double above = 34 + hf_lanes_height(count), pulls = design ? PULLS_HIGH + 8 : 0;
    for (size_t i = 0; design && i < design->specimen_count; i++)
        if (isfinite(design->specimens[i].pull.upper))
            top = fmax(top, hf_in_unit(chart->words.style, design->specimens[i].pull.upper));
    chart->plot = (hf_place_box){30, above, chart->width - (chart->narrow ? 30 : 40),
                                 above + pulls + 190 + under(plan)};
    chart->x = hf_scale_linear(0, top, chart->plot.left, chart->plot.right);
    if (count > 1 && lines[1].value > chart->x.high) count = 1;
    chart->y = (hf_scale){HF_SCALE_LINEAR,
                          NULL,
                          0,
                          1,
                          chart->plot.bottom - RUNGS_HIGH - 6 - under(plan),
                          chart->plot.top + 8 + pulls};
    fill_hill(chart, &guess, hill, ground);
    fill_key(chart, plan, design, key, &keys);
    double bottom = chart->plot.bottom + HF_AXIS_LOAD;
    hf_chart_open(chart, bottom + hf_key(chart, NAN, key, keys) + 6, title(chart, ladder),
                  finding(chart, ladder));
    hf_axis_load(chart, NULL, "");
    hf_mark_band(chart, ground, hill, POINTS);
    hf_mark_line(chart, hill, POINTS, "b thin");
    draw_rungs(chart, plan);
    if (has_piles(plan)) draw_piles(chart, plan, chart->plot.bottom - PILES + 4);
    if (design) draw_pulls(chart, design, chart->plot.top + 4);
    hf_lines_upright(chart, lines, count);
    (void)hf_key(chart, bottom, key, keys);
    hf_chart_close(chart);
    return NULL;
}
