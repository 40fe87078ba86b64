/* All designs on one load axis: every pull as a bar from held to failed, the bound as an upright stroke, best bound first. */
#include <math.h>
#include <stdlib.h>
#include "chart/chart.h"
#include "holdfast/strength/sample.h"
#include "words/compare_report.h"

enum {
    TOP = 40,
    HEAD = 24,
    HEAD_NARROW = 42,
    FOOT = 8,
    TALLEST = 132,
    TALLEST_OF_MANY = 66,
    MANY = 8,
    KEYS_MOST = 7
};

static const double log_from_ratio = 50, row_most = 9, thick_from = 5;

typedef struct league_pull {
    hf_observation seen;
    bool rig; /* whole because the rig let go */
} league_pull;

typedef struct league_row {
    const hf_comparison_design *design;
    const league_pull *pulls; /* weakest first */
    double height;            /* of one pull */
} league_row;

typedef struct league_picture {
    const hf_comparison *result;
    league_row *rows;
    double least, greatest, outlasted;
    bool closed, below, whole, rig, bound, asked, thick;
    bool told; /* a design is stronger than another: only then do they have ranks */
} league_picture;

static int weaker_first(const void *a, const void *b) {
    const hf_observation *left = &((const league_pull *)a)->seen, *right = &((const league_pull *)b)->seen;
    if (left->lower != right->lower) return left->lower < right->lower ? -1 : 1;
    return (left->upper > right->upper) - (left->upper < right->upper);
}

/* How many parts were still whole at this load because the rig let go. */
static size_t rig_at(const hf_design *pulled, double load) {
    size_t count = 0;
    for (size_t i = 0; i < pulled->specimen_count; i++) {
        const hf_specimen *specimen = &pulled->specimens[i];
        count += specimen->outcome == HF_OUTCOME_RIG && specimen->pull.kind == HF_INTERVAL_ABOVE &&
                 hf_same_load(specimen->pull.lower, load);
    }
    return count;
}

/* Observations do not say why a part is whole; its design does. `pulls`: weakest first. */
static void mark_rig(const hf_comparison_design *design, league_pull *pulls, league_picture *p) {
    size_t left = 0, rigs = design->event.counts.rig;
    double load = NAN;
    for (size_t i = 0; i < design->sample.count; i++) {
        bool whole = pulls[i].seen.kind == HF_INTERVAL_ABOVE;
        if (whole && pulls[i].seen.lower != load) {
            load = pulls[i].seen.lower;
            left = rigs ? rig_at(design->pulled, load) : 0;
        }
        pulls[i].rig = whole && left;
        left -= pulls[i].rig;
        p->rig = p->rig || pulls[i].rig;
        p->whole = p->whole || (whole && !pulls[i].rig);
    }
}

static void reach(const hf_chart *chart, league_picture *p, double newtons) {
    double value = hf_in_unit(chart->words.style, newtons);
    if (!isfinite(value)) return;
    if (value > 0) p->least = fmin(p->least, value);
    p->greatest = fmax(p->greatest, value);
}

static bool fill_row(hf_chart *chart, league_picture *p, const hf_comparison_design *design,
                     league_row *row) {
    hf_sample sample = design->sample;
    league_pull *pulls = HF_ARENA_NEW_ARRAY(chart->words.arena, league_pull, sample.count);
    if (!pulls) return false;
    for (size_t i = 0; i < sample.count; i++) {
        const hf_observation *seen = &sample.items[i];
        pulls[i] = (league_pull){*seen, false};
        reach(chart, p, seen->lower);
        reach(chart, p, seen->upper);
        if (seen->kind == HF_INTERVAL_ABOVE)
            p->outlasted = fmax(p->outlasted, hf_in_unit(chart->words.style, seen->lower));
        p->closed = p->closed || seen->kind == HF_INTERVAL_CLOSED || seen->kind == HF_INTERVAL_EXACT;
        p->below = p->below || seen->kind == HF_INTERVAL_BELOW;
    }
    qsort(pulls, sample.count, sizeof *pulls, weaker_first);
    mark_rig(design, pulls, p);
    p->bound = p->bound || isfinite(design->bound);
    p->asked = p->asked || isfinite(hf_chart_asked(design->design));
    reach(chart, p, hf_chart_asked(design->design));
    double tallest = p->result->count > MANY ? TALLEST_OF_MANY : TALLEST;
    *row = (league_row){design, pulls, fmin(row_most, tallest / fmax(1, (double)sample.count))};
    p->thick = p->thick || row->height >= thick_from;
    return true;
}

static bool collect(hf_chart *chart, const hf_comparison *result, league_picture *p) {
    p->result = result;
    p->least = INFINITY;
    p->outlasted = -INFINITY;
    p->rows = HF_ARENA_NEW_ARRAY(chart->words.arena, league_row, result->count);
    for (size_t i = 0; i < result->pair_count; i++)
        p->told = p->told || result->pairs[i].verdict == HF_VERDICT_A_STRONGER ||
                  result->pairs[i].verdict == HF_VERDICT_B_STRONGER;
    for (size_t i = 0; p->rows && i < result->count; i++)
        if (!fill_row(chart, p, &result->designs[result->league[i]], &p->rows[i])) p->rows = NULL;
    for (size_t i = 0; p->rows && i < result->count; i++)
        if (hf_in_unit(chart->words.style, p->rows[i].design->bound) > p->least / 1000)
            reach(chart, p, p->rows[i].design->bound);
    return p->rows;
}

static double head_height(const hf_chart *chart) {
    return chart->narrow ? HEAD_NARROW : HEAD;
}

static double block_height(const hf_chart *chart, const league_row *row) {
    return head_height(chart) + row->height * (double)row->design->sample.count + FOOT;
}

static double place(const hf_chart *chart, double newtons) {
    double value = hf_in_unit(chart->words.style, newtons);
    return value <= chart->x.low ? chart->plot.left : hf_scale_place(&chart->x, value);
}

static void draw_pull(hf_chart *chart, const league_pull *one, double y, double height) {
    const hf_observation *pull = &one->seen;
    hf_point from = {place(chart, pull->lower), y};
    if (pull->kind == HF_INTERVAL_ABOVE) {
        hf_mark_arrow(chart, from, chart->plot.right,
                      one->rig              ? "b line dot"
                      : height < thick_from ? "b line thin"
                                            : "b line");
        return;
    }
    hf_point to = {place(chart, pull->upper), y};
    if (to.x - from.x < 4) from.x = to.x - 4; /* a whole reading is a dot that can be seen */
    hf_mark_stroke(chart, from, to,
                   pull->kind == HF_INTERVAL_BELOW ? "b line dash"
                   : height < thick_from           ? "b line"
                                                   : "b thick");
}

static const char *promise(hf_chart *chart, const hf_comparison_design *design) {
    if (isfinite(design->bound) && !(design->bound > 0)) return "no bound above zero";
    if (isfinite(design->bound))
        return hf_chart_format(chart, "bound %s%s", hf_chart_load_bound(chart, design->bound),
                               hf_chart_rejected(&design->event));
    return design->sample.count ? "no bound" : "not pulled";
}

/* Rank (where designs were told apart), name and number of pulls, and the bound at the right; under each other where there is little room. */
static void draw_head(hf_chart *chart, const league_picture *p, const hf_comparison_design *design,
                      double y) {
    const char *bound = promise(chart, design),
               *number = !p->told       ? ""
                         : design->rank ? hf_chart_format(chart, "%zu. ", design->rank)
                                        : "– ",
               *pulls = hf_chart_count(chart, design->sample.count, "pull", "pulls");
    double beside = chart->narrow ? 0 : hf_label_width(bound) + 80,
           below = chart->narrow ? HF_LINE_HEIGHT : 0;
    double room = chart->width - 24 - beside - hf_label_width(number);
    const char *name = hf_chart_cut(chart, hf_compare_name(design), room);
    (void)hf_label_put(chart, (hf_point){12, y}, HF_ANCHOR_START,
                       chart->narrow ? hf_chart_format(chart, "%s%s", number, name)
                                     : hf_chart_format(chart, "%s%s, %s", number, name, pulls));
    if (chart->narrow) (void)hf_label_put(chart, (hf_point){12, y + below}, HF_ANCHOR_START, pulls);
    (void)hf_label_put(chart, (hf_point){chart->width - 12, y + below}, HF_ANCHOR_END, bound);
}

/* What is asked of this design, beside its pulls. */
static void draw_asked(hf_chart *chart, const hf_comparison_design *design, double top, double bottom) {
    double asked = hf_in_unit(chart->words.style, hf_chart_asked(design->design));
    if (!(asked >= chart->x.low)) return;
    double x = hf_scale_place(&chart->x, asked);
    hf_mark_hover(chart, hf_chart_asked_words(chart, design->design));
    hf_mark_stroke(chart, (hf_point){x, top}, (hf_point){x, bottom}, "ask line dash");
}

static void draw_block(hf_chart *chart, const league_picture *p, const league_row *row, double top) {
    const hf_comparison_design *design = row->design;
    double bottom = top + block_height(chart, row) - FOOT, first = top + head_height(chart);
    hf_mark_rectangle(chart, (hf_place_box){chart->plot.left - 1, top, chart->plot.right + 1, first - 3},
                      "paper"); /* no line of the axis through the words */
    draw_head(chart, p, design, top + 16);
    draw_asked(chart, design, first - 2, bottom + 2);
    for (size_t i = 0; i < design->sample.count; i++)
        draw_pull(chart, &row->pulls[i], first + ((double)i + 0.5) * row->height, row->height);
    if (!isfinite(design->bound) || !(hf_in_unit(chart->words.style, design->bound) >= chart->x.low)) return;
    double x = place(chart, design->bound);
    hf_mark_stroke(chart, (hf_point){x, first - 2}, (hf_point){x, bottom + 2}, "v line");
    hf_mark_shape(chart, (hf_point){x, (first + bottom) / 2}, 3, 5, "want");
}

static size_t fill_key(const league_picture *p, hf_key_entry keys[KEYS_MOST]) {
    size_t count = 0;
    if (p->closed)
        keys[count++] =
            (hf_key_entry){"held to failed", HF_KEY_STROKE, p->thick ? "b thick" : "b line", false};
    if (p->below)
        keys[count++] = (hf_key_entry){"failed at the first load", HF_KEY_STROKE, "b line dash", false};
    if (p->whole) keys[count++] = (hf_key_entry){"still whole", HF_KEY_STROKE, "b line", true};
    if (p->rig) keys[count++] = (hf_key_entry){"rig let go, part whole", HF_KEY_STROKE, "b line dot", true};
    if (p->bound) keys[count++] = (hf_key_entry){"bound", 3, "want", false};
    if (p->asked) keys[count++] = (hf_key_entry){"asked", HF_KEY_STROKE, "ask line dash", false};
    return count;
}

static const char *finding(hf_chart *chart, const league_picture *p) {
    hf_document *d = &chart->words;
    const hf_comparison_design *first = p->rows[0].design, *last = NULL;
    for (size_t i = 1; i < p->result->count; i++)
        if (p->rows[i].design->rank) last = p->rows[i].design;
    if (!first->rank) return "No design has a bound, so none can be put before another.";
    const char *least = last ? hf_chart_format(chart, " The least of the bounds, %s, is that of %s.",
                                               hf_chart_load_bound(chart, last->bound),
                                               hf_chart_cut(chart, hf_compare_name(last), 200))
                             : "";
    if (!p->told && p->result->count > 1)
        return hf_chart_format(chart,
                               "These pulls tell no design from another, so none has a rank. The bounds, at "
                               "least %s of parts with %s confidence, reach from %s to %s.",
                               hf_show_text(d, HF_AS_SHARE_STATED, first->content),
                               hf_show_text(d, HF_AS_SHARE_STATED, first->confidence),
                               hf_chart_load_bound(chart, (last ? last : first)->bound),
                               hf_chart_load_bound(chart, first->bound));
    if (hf_chart_rejected(&first->event)[0])
        return hf_chart_format(chart,
                               "%s has the highest bound, %s, but that leans on a law that its test "
                               "rejects.%s The order goes by bound, never by best pull, and does not say "
                               "which design is surely stronger.",
                               hf_chart_cut(chart, hf_compare_name(first), 200),
                               hf_chart_load_bound(chart, first->bound), least);
    return hf_chart_format(chart,
                           "%s can be trusted with most: at least %s of its parts carry %s, with %s "
                           "confidence.%s The order goes by "
                           "bound, never by best pull, and does not say which design is surely stronger.",
                           hf_chart_cut(chart, hf_compare_name(first), 200),
                           hf_show_text(d, HF_AS_SHARE_STATED, first->content),
                           hf_chart_load_bound(chart, first->bound),
                           hf_show_text(d, HF_AS_SHARE_STATED, first->confidence), least);
}

static const char *title(hf_chart *chart, const league_picture *p) {
    const hf_comparison_design *first = p->rows[0].design;
    if (!first->rank) return "No design has a bound";
    if (!p->told && p->result->count > 1 && first->bound > 0)
        return hf_chart_format(chart, "No design is told from another; highest bound %s",
                               hf_chart_load_bound(chart, first->bound));
    if (!(first->bound > 0)) return "No design has a bound above zero";
    return hf_chart_format(chart, "Highest bound: %s%s, %s", hf_chart_load_bound(chart, first->bound),
                           hf_chart_rejected(&first->event), hf_chart_design(chart, first->design));
}

const char *hf_chart_league(hf_chart *chart, const hf_chart_subject *subject) {
    league_picture *p = HF_ARENA_NEW(chart->words.arena, league_picture);
    hf_key_entry keys[KEYS_MOST];
    if (!p || !collect(chart, subject->comparison, p)) {
        chart->out->failed = true;
        return NULL;
    }
    if (!(p->greatest > 0) || !isfinite(p->least)) return "no part of these designs has been pulled";
    double bottom = TOP, y = TOP;
    for (size_t i = 0; i < p->result->count; i++) bottom += block_height(chart, &p->rows[i]);
    chart->plot = (hf_place_box){26, TOP, chart->width - 34, bottom};
    bool log = p->greatest > log_from_ratio * p->least;
    double low = log ? p->least : 0, high = hf_scale_past(low, p->greatest, p->outlasted, log);
    chart->x = log ? hf_scale_log(low, high, chart->plot.left, chart->plot.right)
                   : hf_scale_linear(low, high, chart->plot.left, chart->plot.right);
    size_t count = fill_key(p, keys);
    chart->ungridded = true;
    hf_chart_open(chart, bottom + HF_AXIS_LOAD + hf_key(chart, NAN, keys, count) + 6, title(chart, p),
                  finding(chart, p));
    hf_axis_load(chart, p->rows[0].design->assessment->answer.mass_unit, "");
    for (size_t i = 0; i < p->result->count; i++) {
        draw_block(chart, p, &p->rows[i], y);
        y += block_height(chart, &p->rows[i]);
    }
    (void)hf_key(chart, bottom + HF_AXIS_LOAD, keys, count);
    hf_chart_close(chart);
    return NULL;
}
