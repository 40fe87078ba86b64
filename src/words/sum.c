/* The sum behind a working load, printed so that a pocket calculator confirms it.
 *
 * All numbers of a sum carry five figures, and each result is what its line gives when it is redone from the printed numbers, rounded
 * down; the next line goes on from it. Where that would contradict the tables, which round the exact value down, all carry six figures,
 * up to eight. Where that is not enough either (a small difference of large numbers), a result is shown with as many figures as its line confirms to within one unit of the last, with more
 * figures inside where fewer than three would be left. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/words.h"

enum {
    FIGURES = 5,
    MOST_STRICT = 8,
    NEAR_UNITS = 50,
    MOST_INSIDE = 10,
    ENOUGH = 3,
    RATING_FIGURES = 3,
    TABLE_FIGURES = 4,
    PLAIN_FIGURES = 7,
    PLAIN_BELOW = 10000000
};

static const double confirmed = 0.999; /* of one unit of the last printed digit */

/* All lines of one event. They are first worked out silently, to find how many figures they need. */
typedef struct sum_chain {
    hf_document *document;
    int figures; /* in every line, at least */
    int inside;  /* in the formula of the bound */
    bool silent;
    bool strict; /* results are what their lines give, rounded down, with all figures */
    bool sound;  /* every result is confirmed by its line */
} sum_chain;

typedef struct printed {
    const char *text; /* with a proper minus sign */
    double value;     /* as printed */
    int figures;      /* 0: none could be confirmed, decimals are given instead */
} printed;

static printed print_number(hf_document *document, double value, int figures) {
    char number[HF_NUMBER_SIZE];
    printed out = {hf_figures_text(document, value, figures), NAN, figures};
    hf_number_figures(value, figures, number);
    if (!hf_number_read(number, strlen(number), &out.value)) out.value = NAN;
    return out;
}

/* A constant such as 1.645 or 3 without idle zeros. */
static printed print_constant(hf_document *document, double value, int figures) {
    printed out = print_number(document, value, figures);
    char shortest[HF_NUMBER_SIZE];
    hf_number_shortest(out.value, shortest);
    if (strlen(shortest) < strlen(out.text)) out.text = hf_show_text(document, HF_AS_GIVEN, out.value);
    return out;
}

static double digit_unit(double value, int figures) {
    return value == 0 ? 0 : pow(10, floor(log10(fabs(value))) - (figures - 1));
}

static bool confirms(const printed *out, double exact, double redone) {
    double unit = digit_unit(out->value, out->figures);
    /* 123460 for 123456 would look exact to the last digit. */
    if (unit > 1 && fabs(out->value) < PLAIN_BELOW) return false;
    /* Whoever rounds the printed number down must arrive where the program does, in tables and in the rating. */
    int kept = out->figures < TABLE_FIGURES ? RATING_FIGURES : TABLE_FIGURES;
    return fabs(redone - out->value) <= confirmed * unit &&
           hf_number_round_down(out->value, kept) == hf_number_round_down(exact, kept) &&
           hf_number_round_down(out->value, RATING_FIGURES) == hf_number_round_down(exact, RATING_FIGURES);
}

static printed print_decimals(hf_document *document, double exact, double redone) {
    printed out = {"0", 0, 0};
    for (int decimals = FIGURES; decimals >= 0; decimals--) {
        const char *number = hf_arena_format(document->arena, "%.*f", decimals, exact);
        if (!number || !hf_number_read(number, strlen(number), &out.value)) continue;
        out.text = hf_arena_format(document->arena, "%s%s", number[0] == '-' ? "−" : "",
                                   number + (number[0] == '-'));
        if (fabs(redone - out.value) <= confirmed * pow(10, -decimals)) break;
    }
    if (!out.text) out.text = "-";
    return out;
}

/* What the line gives when it is redone from its printed numbers, rounded down; the tables must say the same of the exact value. */
static printed print_redone(const sum_chain *chain, int figures, double exact, double redone) {
    printed out = print_number(chain->document, hf_number_round_down(redone, figures), figures);
    bool near = fabs(out.value - exact) <= NEAR_UNITS * digit_unit(out.value, figures);
    if (!near || !confirms(&out, exact, redone)) out.figures = 0;
    return out;
}

/* `exact` with as many figures as the redone value supports, rounded down like every promise where the line allows it. */
static printed print_result(const sum_chain *chain, double exact, double redone) {
    hf_document *document = chain->document;
    double plain = exact == 0 ? 0 : floor(log10(fabs(exact))) + 1; /* digits before the point */
    int most = plain > chain->figures && plain <= PLAIN_FIGURES ? (int)plain : chain->figures;
    if (chain->strict) return print_redone(chain, most, exact, redone);
    for (int figures = most; figures > 0; figures--) {
        printed below = print_number(document, hf_number_round_down(exact, figures), figures);
        if (confirms(&below, exact, redone)) return below;
        printed nearest = print_number(document, exact, figures);
        if (confirms(&nearest, exact, redone)) return nearest;
    }
    return print_decimals(document, exact, redone);
}

/* The terms of the one formula as they are printed, in the unit shown; on log scales m is a load and the rest stands in the exponent. */
typedef struct terms {
    printed m, s, h, k, allowance;
    double redone;
} terms;

double hf_sum_divisor(double allowance) {
    double divisor = 1 / allowance;
    return isfinite(divisor) && divisor == floor(divisor) ? divisor : 0;
}

static bool on_logs(const hf_bound *bound) {
    return hf_bound_counts_batches(bound) || bound->family->log_scale;
}

static terms print_terms(hf_document *document, const hf_bound *bound, int figures) {
    bool logs = on_logs(bound);
    double scale = logs ? 1 : hf_in_unit(document->style, 1);
    terms t = {.m = print_number(
                   document, logs ? hf_in_unit(document->style, exp(bound->m)) : scale * bound->m, figures),
               .s = print_number(document, bound->s * scale, figures),
               .h = print_number(document, bound->h * scale, figures),
               .k = print_number(document, bound->k, figures),
               .allowance = print_number(document, bound->allowance, figures)};
    double allowance = hf_sum_divisor(bound->allowance) > 0 ? bound->allowance : t.allowance.value;
    double root = bound->h == 0 ? t.s.value : sqrt(t.s.value * t.s.value + allowance * t.h.value * t.h.value);
    t.redone = logs ? t.m.value * exp(-t.k.value * root) : t.m.value - t.k.value * root;
    return t;
}

static const char *print_root(hf_document *document, const hf_bound *bound, const terms *t) {
    const char *text = t->s.text;
    double divisor = hf_sum_divisor(bound->allowance);
    if (bound->h > 0 && divisor > 0)
        text = hf_arena_format(document->arena, "√(%s² + %s²/%.0f)", t->s.text, t->h.text, divisor);
    else if (bound->h > 0)
        text = hf_arena_format(document->arena, "√(%s² + %s × %s²)", t->s.text, t->allowance.text, t->h.text);
    return text ? text : "-";
}

/* A line whose result carries less than three figures breaks the chain; a strict one wants them all. */
static void judge(sum_chain *chain, printed result) {
    if (result.figures < (chain->strict ? chain->figures : ENOUGH)) chain->sound = false;
}

/* "bound = 812.40 − 3.4066 × √(64.212² + 40.000²/8) = 588.4 N", or with e^(…) on log scales. */
static printed bound_line(sum_chain *chain, const hf_bound *bound, const char *name) {
    hf_document *document = chain->document;
    double exact = hf_in_unit(document->style, bound->value);
    terms t;
    printed result;
    chain->inside = chain->figures;
    do {
        t = print_terms(document, bound, chain->inside);
        result = print_result(chain, exact, t.redone);
    } while (!chain->strict && result.figures < ENOUGH && chain->inside++ < MOST_INSIDE);
    if (chain->inside > MOST_INSIDE) chain->inside = MOST_INSIDE;
    judge(chain, result);
    if (!chain->silent)
        hf_document_addf(document, HF_BLOCK_SUM,
                         on_logs(bound) ? "%s = %s × e^(−%s × %s) = %s %s" : "%s = %s − %s × %s = %s %s",
                         name, t.m.text, t.k.text, print_root(document, bound, &t), result.text,
                         document->style->unit->name);
    return result;
}

/* No law: the bound is one of the loads that were held. */
static printed rank_line(const sum_chain *chain, const hf_bound *bound, const char *name) {
    hf_document *document = chain->document;
    double load = hf_in_unit(document->style, bound->value);
    printed value = print_number(document, hf_number_round_down(load, chain->figures), chain->figures);
    if (chain->silent) return value;
    hf_document_addf(document, HF_BLOCK_SUM, "%s = %s %s, no. %zu from below of %zu loads%s", name,
                     value.text, document->style->unit->name, bound->rank, bound->n,
                     bound->value > 0 ? "" : ": nothing above 0");
    return value;
}

/* For a wide class of laws: "bound = 934.00 × (455.00 ÷ 934.00)^1.2682 = 374.5 N", from two of the middles. */
static printed pair_line(sum_chain *chain, const hf_bound *bound, const char *name) {
    hf_document *document = chain->document;
    printed low, high, k, result;
    int inside = chain->figures;
    do {
        low = print_number(document, hf_in_unit(document->style, bound->lower_end), inside);
        high = print_number(document, hf_in_unit(document->style, bound->upper_end), inside);
        k = print_number(document, bound->k, inside);
        result = print_result(chain, hf_in_unit(document->style, bound->value),
                              high.value * pow(low.value / high.value, k.value));
    } while (!chain->strict && result.figures < ENOUGH && ++inside <= MOST_INSIDE);
    judge(chain, result);
    if (!chain->silent)
        hf_document_addf(document, HF_BLOCK_SUM, "%s = %s × (%s ÷ %s)^%s = %s %s", name, high.text, low.text,
                         high.text, k.text, result.text, document->style->unit->name);
    return result;
}

static printed first_line(sum_chain *chain, const hf_bound *bound, const char *name) {
    if (bound->family || hf_bound_counts_batches(bound)) return bound_line(chain, bound, name);
    return bound->method == HF_BOUND_HANSON_KOOPMANS ? pair_line(chain, bound, name)
                                                     : rank_line(chain, bound, name);
}

static printed calibration_line(sum_chain *chain, const hf_event_assessment *event, printed bound) {
    hf_document *document = chain->document;
    if (!(event->calibration_u > 0)) return bound;
    bool nothing_left = event->calibrated <= 0;
    printed z, u, result = {"0", 0, chain->figures};
    int inside = chain->figures;
    do {
        z = print_constant(document, event->calibration_z, inside);
        u = print_number(document, event->calibration_u, inside);
        if (nothing_left) break;
        result = print_result(chain, hf_in_unit(document->style, event->calibrated),
                              bound.value * (1 - z.value * u.value));
    } while (!chain->strict && result.figures < ENOUGH && ++inside <= MOST_INSIDE);
    judge(chain, result);
    if (!chain->silent)
        hf_document_addf(document, HF_BLOCK_SUM, "less the rig's load error: %s × (1 − %s × %s)%s = %s %s",
                         bound.text, z.text, u.text, nothing_left ? ", not below 0," : "", result.text,
                         document->style->unit->name);
    return result;
}

static printed divide_line(sum_chain *chain, printed from, const hf_load_step *step, const char *what) {
    hf_document *document = chain->document;
    printed factor, result;
    int inside = chain->figures;
    do {
        factor = print_constant(document, step->factor, inside);
        result = print_result(chain, hf_in_unit(document->style, step->value), from.value / factor.value);
    } while (!chain->strict && result.figures < ENOUGH && ++inside <= MOST_INSIDE);
    judge(chain, result);
    if (!chain->silent)
        hf_document_addf(document, HF_BLOCK_SUM, "÷ %s: %s ÷ %s = %s %s", what, from.text, factor.text,
                         result.text, document->style->unit->name);
    return result;
}

/* The lines after the bound. Factors of use and rounding belong to the event that limits. */
static void step_lines(const hf_design_assessment *design, bool breaks, printed at, sum_chain *chain) {
    bool limits = design->limited_by == (breaks ? HF_LIMIT_BREAK : HF_LIMIT_SET);
    for (size_t i = 0; i < design->step_count; i++) {
        const hf_load_step *step = &design->steps[i];
        if (step->kind == HF_STEP_DESIGN_FACTOR && breaks) at = divide_line(chain, at, step, "design factor");
        if (step->kind == HF_STEP_SET && !breaks) at = divide_line(chain, at, step, "set factor");
        if (limits && step->kind == HF_STEP_USE_FACTOR)
            at =
                divide_line(chain, at, step,
                            step->label ? hf_cut_text(chain->document, step->label, HF_NAME_COLUMNS) : "use");
        if (limits && step->kind == HF_STEP_ROUND && !chain->silent)
            hf_document_addf(chain->document, HF_BLOCK_SUM, "rounded down to three figures: %s",
                             hf_show_text(chain->document, HF_AS_RATING, design->working_load_unrounded));
    }
}

static void all_lines(const hf_design_assessment *design, const hf_event_assessment *event,
                      sum_chain *chain) {
    const hf_bound *bound = event->governing;
    bool breaks = event == &design->break_event;
    const char *name = breaks ? "bound" : "set bound";
    printed at = first_line(chain, bound, name);
    if (!(bound->value > 0)) return;
    at = calibration_line(chain, event, at);
    if (event->calibrated > 0) step_lines(design, breaks, at, chain);
}

/* The fewest figures with which every line confirms itself, rounded down if that can be; five when there are none. */
static sum_chain find_chain(const hf_design_assessment *design, const hf_event_assessment *event,
                            hf_document *document) {
    sum_chain chain = {.document = document, .figures = FIGURES};
    for (int strict = 1; strict >= 0; strict--)
        for (int figures = FIGURES; figures <= (strict ? MOST_STRICT : MOST_INSIDE); figures++) {
            sum_chain tried = {.document = document,
                               .figures = figures,
                               .inside = figures,
                               .silent = true,
                               .strict = strict,
                               .sound = true};
            all_lines(design, event, &tried);
            if (!tried.sound) continue;
            chain.figures = figures;
            chain.strict = strict;
            return chain;
        }
    return chain;
}

bool hf_has_sum(const hf_event_assessment *event) {
    const hf_bound *bound = event->governing;
    /* A rank of nothing is no sum. */
    return bound && isfinite(bound->value) && (bound->family || bound->value > 0);
}

static sum_chain print_lines(const hf_design_assessment *design, const hf_event_assessment *event,
                             hf_document *document) {
    sum_chain chain = find_chain(design, event, document);
    chain.sound = true;
    all_lines(design, event, &chain);
    return chain;
}

void hf_sum_bare(const hf_design_assessment *design, const hf_event_assessment *event,
                 hf_document *document) {
    if (hf_has_sum(event)) (void)print_lines(design, event, document);
}

void hf_sum_lines(const hf_design_assessment *design, const hf_event_assessment *event,
                  hf_document *document) {
    const hf_bound *bound = event->governing;
    if (!bound || !isfinite(bound->value)) return;
    sum_chain chain = print_lines(design, event, document);
    if (bound->method == HF_BOUND_BATCH)
        hf_sum_explain_batches(document, design, event, chain.inside);
    else if (bound->method == HF_BOUND_ONE_BATCH)
        hf_sum_explain_between(document, design, event, chain.inside);
    else if (bound->family)
        hf_sum_explain(document, design, event, chain.inside, chain.strict);
    else if (bound->method == HF_BOUND_HANSON_KOOPMANS)
        hf_sum_explain_pair(document, design, bound);
}
