/* The sum behind a working load, printed so that a pocket calculator confirms it.
 *
 * Numbers inside a sum carry five figures. Each line is redone here from what it prints, and its result is shown with as many
 * figures (five at most) as that redoing confirms to within one unit of the last; the next line goes on from the printed result. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "report/document.h"

enum { FIGURES = 5, LEAST_FIGURES = 2 };

typedef struct printed {
    const char *text; /* with a proper minus sign */
    double value;     /* as printed */
} printed;

static printed print_number(hf_document *document, double value, int figures) {
    char number[HF_NUMBER_SIZE];
    printed out = {hf_figures_text(document, value, figures), 0};
    hf_number_figures(value, figures, number);
    if (!hf_number_read(number, strlen(number), &out.value)) out.value = NAN;
    return out;
}

/* `exact` with as many figures as the redone value supports. */
static printed print_result(hf_document *document, double exact, double redone) {
    for (int figures = FIGURES; figures > LEAST_FIGURES; figures--) {
        printed out = print_number(document, exact, figures);
        double unit = pow(10, floor(log10(fabs(out.value))) - (figures - 1));
        if (fabs(redone - out.value) <= 0.75 * unit) return out;
    }
    return print_number(document, exact, LEAST_FIGURES);
}

/* "bound = 812.40 − 3.4066 × √(64.212² + 40.000²/8)", or with e^(…) on log scales. Numbers in the unit shown. */
static printed bound_line(hf_document *document, const hf_bound *bound, const char *name) {
    const hf_report_style *style = document->style;
    bool logs = bound->family->log_scale;
    double scale = logs ? 1 : 1 / hf_unit_newtons(style->unit, style->gravity);
    printed m = print_number(document, hf_in_unit(style, logs ? exp(bound->m) : bound->m), FIGURES);
    printed s = print_number(document, bound->s * scale, FIGURES), h = print_number(document, bound->h * scale, FIGURES);
    printed k = print_number(document, bound->k, FIGURES), a = print_number(document, bound->allowance, FIGURES);
    bool eighth = bound->allowance == 0.125;
    double root = sqrt(s.value * s.value + (eighth ? 0.125 : a.value) * h.value * h.value);
    double redone = logs ? m.value * exp(-k.value * root) : m.value - k.value * root;
    printed result = print_result(document, hf_in_unit(style, bound->value), redone);
    const char *inside = bound->h == 0 ? hf_arena_format(document->arena, "%s", s.text)
                         : eighth ? hf_arena_format(document->arena, "√(%s² + %s²/8)", s.text, h.text)
                                  : hf_arena_format(document->arena, "√(%s² + %s × %s²)", s.text, a.text, h.text);
    hf_document_addf(document, HF_BLOCK_SUM, logs ? "%s = %s × e^(−%s × %s) = %s %s" : "%s = %s − %s × %s = %s %s", name, m.text,
                     k.text, inside ? inside : "", result.text, style->unit->name);
    return result;
}

static printed calibration_line(hf_document *document, const hf_event_assessment *event, printed bound) {
    const hf_report_style *style = document->style;
    if (!(event->calibration_u > 0)) return bound;
    printed z = print_number(document, event->calibration_z, 4), u = print_number(document, event->calibration_u, FIGURES);
    double redone = bound.value * (1 - z.value * u.value);
    printed result = print_result(document, hf_in_unit(style, event->calibrated), redone);
    hf_document_addf(document, HF_BLOCK_SUM, "less the rig's load error: %s × (1 − %s × %s) = %s %s", bound.text, z.text, u.text,
                     result.text, style->unit->name);
    return result;
}

static printed divide_line(hf_document *document, printed from, const hf_load_step *step, const char *what) {
    const hf_report_style *style = document->style;
    printed factor = print_number(document, step->factor, FIGURES);
    char shortest[HF_NUMBER_SIZE];
    hf_number_shortest(step->factor, shortest);
    if (strlen(shortest) < strlen(factor.text)) factor = (printed){hf_arena_text(document->arena, shortest, strlen(shortest)), step->factor};
    printed result = print_result(document, hf_in_unit(style, step->value), from.value / factor.value);
    hf_document_addf(document, HF_BLOCK_SUM, "÷ %s: %s ÷ %s = %s %s", what, from.text, factor.text, result.text, style->unit->name);
    return result;
}

static void explain(hf_document *document, const hf_bound *bound) {
    const char *m = bound->family->has_shape    ? "scale of the fitted Weibull law"
                    : bound->family->log_scale ? "geometric mean of the middles"
                                               : "mean of the middles";
    const char *s = bound->family->has_shape    ? "1 over its shape"
                    : bound->family->log_scale ? "standard deviation of their logarithms"
                                               : "their standard deviation";
    hf_document_addf(document, HF_BLOCK_PARAGRAPH, "%s: %s. %s: the factor for %zu parts, %s of all parts stronger, %s confidence. %s: %s.%s%s%s",
                     hf_bare_load(document, bound->family->log_scale ? exp(bound->m) : bound->m, FIGURES), m,
                     hf_figures_text(document, bound->k, FIGURES), bound->n, hf_percent_text(document, bound->content, 4),
                     hf_percent_text(document, bound->confidence, 4),
                     bound->family->log_scale ? hf_figures_text(document, bound->s, FIGURES) : hf_bare_load(document, bound->s, FIGURES), s,
                     bound->h > 0 ? " " : "",
                     bound->h > 0 ? (bound->family->log_scale ? hf_figures_text(document, bound->h, FIGURES) : hf_bare_load(document, bound->h, FIGURES)) : "",
                     bound->h > 0 ? (bound->family->log_scale ? ": the step size, as a difference of logarithms." : ": the step size.") : "");
}

void hf_sum_lines(const hf_design_assessment *design, const hf_event_assessment *event, hf_document *document) {
    const hf_bound *bound = event->governing;
    bool breaks = event == &design->break_event;
    if (!bound || !bound->family) return;
    if (!isfinite(bound->h)) return;
    printed at = bound_line(document, bound, breaks ? "bound" : "bound of first set");
    if (!(bound->value > 0)) {
        explain(document, bound);
        return;
    }
    at = calibration_line(document, event, at);
    for (size_t i = 0; i < design->step_count && (breaks || design->limited_by); i++) {
        const hf_load_step *step = &design->steps[i];
        bool by_set = design->limited_by && strcmp(design->limited_by, "set") == 0;
        if (strcmp(step->code, "design_factor") == 0 && breaks) at = divide_line(document, at, step, "design factor");
        if (strcmp(step->code, "set") == 0 && !breaks) at = divide_line(document, at, step, "set factor");
        if (by_set == breaks) continue; /* the rest belongs to the event that limits */
        if (strcmp(step->code, "use_factor") == 0) at = divide_line(document, at, step, step->label);
        if (strcmp(step->code, "round") == 0)
            hf_document_addf(document, HF_BLOCK_SUM, "rounded down to three figures: %s", hf_load_text(document, step->value, 3));
    }
    explain(document, bound);
}
