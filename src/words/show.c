#include <math.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "study/limits.h"
#include "words/show.h"

enum { MOST_RECORDED = 5 };

/* How many figures, which way rounded, and whether zeros at the end are dropped. */
typedef struct policy {
    int figures;
    bool down, short_form;
} policy;

static const policy policies[] = {
    [HF_AS_BOUND] = {4, true, false},
    [HF_AS_RATING] = {HF_RATING_FIGURES, true, false},
    [HF_AS_SEEN] = {4, false, false},
    [HF_AS_STATED] = {6, false, true},
    [HF_AS_MEAN] = {4, false, false},
    [HF_AS_ROUGH] = {3, false, false},
    [HF_AS_LOAD_ERROR] = {2, false, false},
    [HF_AS_SHARE] = {3, false, false},
    [HF_AS_SHARE_ROUGH] = {2, false, false},
    [HF_AS_SHARE_STATED] = {14, false, true},
    [HF_AS_SHARE_TO_REDO] = {5, false, false},
    [HF_AS_CONFIDENCE] = {4, false, false},
    [HF_AS_SHARE_KEPT] = {3, true, false},
    [HF_AS_SHARE_PROVEN] = {4, true, false},
    [HF_AS_SHARE_KEPT_ROUGH] = {2, true, false},
    [HF_AS_CHANCE] = {3, false, false},
    [HF_AS_CHANCE_ROUGH] = {2, false, false},
    [HF_AS_NUMBER] = {3, false, false},
    [HF_AS_NUMBER_ROUGH] = {2, false, false},
    [HF_AS_RATIO] = {2, false, true},
    [HF_AS_FACTOR] = {4, false, false},
    [HF_AS_TO_REDO] = {5, false, false},
    [HF_AS_FACTOR_WHOLE] = {6, false, false},
    [HF_AS_SIGNIFICANCE] = {2, false, false},
    [HF_AS_GIVEN] = {17, false, true},
    [HF_AS_COUNT] = {17, false, true},
};

bool hf_is_load(hf_show_as as) {
    return as <= HF_AS_LOAD_ERROR;
}

double hf_in_unit(const hf_report_style *style, double newtons) {
    return newtons / hf_unit_newtons(style->unit, style->gravity);
}

static bool is_share(hf_show_as as) {
    return as >= HF_AS_SHARE && as <= HF_AS_CHANCE_ROUGH;
}

static bool is_chance(hf_show_as as) {
    return as == HF_AS_CHANCE || as == HF_AS_CHANCE_ROUGH;
}

/* `value` rounded to so many figures, without zeros at the end. */
static const char *short_figures(double value, int figures, char out[HF_NUMBER_SIZE]) {
    double rounded = value;
    hf_number_figures(value, figures, out);
    (void)hf_number_read(out, strlen(out), &rounded);
    return hf_number_shortest(rounded, out);
}

/* Whether `value` is a number as short as people write them down. */
static bool is_recorded(double value) {
    char number[HF_NUMBER_SIZE];
    double recorded;
    hf_number_figures(value, MOST_RECORDED, number);
    return hf_number_read(number, strlen(number), &recorded) && fabs(recorded - value) <= 1e-9 * fabs(value);
}

/* Whether a chance below 1 would read as 100 per cent, which it is not; then `value` is the most that so many figures can say. */
static bool nearly_all(hf_show_as as, double *value) {
    char number[HF_NUMBER_SIZE];
    if (!is_chance(as) || *value >= 1) return false;
    hf_number_figures(100 * *value, policies[as].figures, number);
    bool all = strncmp(number, "100", 3) == 0;
    if (all) *value = 1 - pow(10, -policies[as].figures);
    return all;
}

static void format_share(const policy *p, double share, char out[HF_NUMBER_SIZE]) {
    if (p->short_form && share < 1)
        (void)short_figures(100 * share, p->figures, out);
    else
        (void)hf_number_percent(p->down ? hf_number_round_down(100 * share, p->figures) / 100 : share,
                                p->figures, out);
}

static void format(hf_show_as as, double value, char out[HF_NUMBER_SIZE]) {
    const policy *p = &policies[as];
    if (is_share(as))
        format_share(p, value, out);
    else if (as == HF_AS_SEEN && is_recorded(value))
        (void)short_figures(value, MOST_RECORDED, out);
    else if (p->short_form)
        (void)short_figures(value, p->figures, out);
    else
        hf_number_figures(p->down ? hf_number_round_down(value, p->figures) : value, p->figures, out);
}

const char *hf_show_bare(const hf_report_style *style, hf_show_as as, double value, char out[HF_SHOWN_SIZE]) {
    char number[HF_NUMBER_SIZE];
    if (!isfinite(value)) return strcpy(out, "-");
    if (as == HF_AS_SIGNIFICANCE && !(value > 0)) return strcpy(out, "below 0.0005");
    bool more = nearly_all(as, &value);
    format(as, hf_is_load(as) ? hf_in_unit(style, value) : value, number);
    bool negative = number[0] == '-';
    (void)snprintf(out, HF_SHOWN_SIZE, "%s%s%s", more ? "> " : "", negative ? "−" : "", number + negative);
    return out;
}

const char *hf_show(const hf_report_style *style, hf_show_as as, double value, char out[HF_SHOWN_SIZE]) {
    hf_show_bare(style, as, value, out);
    size_t length = strlen(out);
    if (!isfinite(value)) return out;
    if (hf_is_load(as)) (void)snprintf(out + length, HF_SHOWN_SIZE - length, " %s", style->unit->name);
    if (is_share(as)) (void)snprintf(out + length, HF_SHOWN_SIZE - length, " %%");
    return out;
}

const char *hf_show_text(hf_document *d, hf_show_as as, double value) {
    char shown[HF_SHOWN_SIZE];
    hf_show(d->style, as, value, shown);
    const char *text = hf_arena_text(d->arena, shown, strlen(shown));
    return text ? text : "-";
}

const char *hf_bare_text(hf_document *d, hf_show_as as, double value) {
    char shown[HF_SHOWN_SIZE];
    hf_show_bare(d->style, as, value, shown);
    const char *text = hf_arena_text(d->arena, shown, strlen(shown));
    return text ? text : "-";
}
