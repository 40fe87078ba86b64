#include <math.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/show.h"

enum { MOST_RECORDED = 5 };

/* How many figures, which way rounded, and whether zeros at the end are dropped. */
typedef struct policy {
    int figures;
    bool down, short_form;
} policy;

static const policy policies[] = {
    [HF_AS_BOUND] = {4, true, false},         [HF_AS_RATING] = {3, true, false},
    [HF_AS_SEEN] = {4, false, false},         [HF_AS_STATED] = {6, false, true},
    [HF_AS_MEAN] = {4, false, false},         [HF_AS_ROUGH] = {3, false, false},
    [HF_AS_SHARE] = {3, false, false},        [HF_AS_SHARE_ROUGH] = {2, false, false},
    [HF_AS_NUMBER] = {3, false, false},       [HF_AS_RATIO] = {2, false, true},
    [HF_AS_SIGNIFICANCE] = {2, false, false}, [HF_AS_COUNT] = {17, false, true}};

bool hf_is_load(hf_show_as as) {
    return as <= HF_AS_ROUGH;
}

static bool is_share(hf_show_as as) {
    return as == HF_AS_SHARE || as == HF_AS_SHARE_ROUGH;
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

static const double almost_all = 99; /* per cent: from here on rounding could make all of it */

static void format(hf_show_as as, double value, char out[HF_NUMBER_SIZE]) {
    const policy *p = &policies[as];
    double whole = floor(value + 0.5);
    if (as == HF_AS_SEEN && is_recorded(value))
        (void)short_figures(value, MOST_RECORDED, out);
    else if (is_share(as) && fabs(value - whole) < 1e-9 && (whole != 100 || value >= 100))
        hf_number_shortest(whole, out);
    else if (is_share(as) && !p->down && value > almost_all && value < 100)
        (void)hf_number_percent(value / 100, p->figures, out);
    else if (p->short_form)
        (void)short_figures(value, p->figures, out);
    else
        hf_number_figures(p->down ? hf_number_round_down(value, p->figures) : value, p->figures, out);
}

const char *hf_show_bare(const hf_report_style *style, hf_show_as as, double value, char out[HF_SHOWN_SIZE]) {
    char number[HF_NUMBER_SIZE];
    if (!isfinite(value)) return strcpy(out, "-");
    if (as == HF_AS_SIGNIFICANCE && !(value > 0)) return strcpy(out, "below 0.0005");
    format(as, hf_is_load(as) ? hf_in_unit(style, value) : is_share(as) ? 100 * value : value, number);
    bool negative = number[0] == '-';
    (void)snprintf(out, HF_SHOWN_SIZE, "%s%s", negative ? "−" : "", number + negative);
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
