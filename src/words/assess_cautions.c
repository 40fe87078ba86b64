/* The cautions of one design as items: those about one thing stand in one item, and what the design knows beside the caution's own
 * numbers is added to it. */
#include <math.h>
#include <string.h>
#include "words/assess_words.h"

static bool is(const hf_caution *caution, const char *code) {
    return strcmp(caution->code, code) == 0;
}

static bool has(const hf_cautions *list, const char *code) {
    for (size_t i = 0; i < list->count; i++)
        if (is(&list->items[i], code)) return true;
    return false;
}

static bool first_of_its_kind(const hf_cautions *list, size_t index) {
    for (size_t i = 0; i < index; i++)
        if (is(&list->items[i], list->items[index].code)) return false;
    return true;
}

bool hf_caution_is_merged(const hf_cautions *list, size_t index) {
    const hf_caution *caution = &list->items[index];
    if (is(caution, "first_rung_held")) return has(list, "first_rung");
    return is(caution, "fit_rejected") && !first_of_its_kind(list, index);
}

/* --- What the design adds ---------------------------------------------------------------------------- */

static const hf_specimen *specimen_of(const hf_design *design, const char *id) {
    for (size_t i = 0; id && i < design->specimen_count; i++)
        if (strcmp(design->specimens[i].id, id) == 0) return &design->specimens[i];
    return NULL;
}

static double middle(const hf_pull *pull) {
    return isfinite(pull->upper) ? 0.5 * (pull->lower + pull->upper) : pull->lower;
}

/* The caution with the slots filled that only the design can fill; see caution_words.c. */
static hf_caution completed(const hf_design_assessment *a, const hf_caution *caution) {
    hf_caution out = *caution;
    size_t without;
    if (is(caution, "one_batch")) {
        out.number[0] = (double)hf_batches_stated(a->design, &without);
        out.number[1] = (double)without;
    } else if (is(caution, "outlier")) {
        const hf_specimen *part = specimen_of(a->pulled ? a->pulled : a->design, caution->text[0]);
        if (!part || part->pull.kind == HF_PULL_NONE) return out;
        out.number[2] = hf_pull_reached(&part->pull);
        out.number[3] = middle(&part->pull) < a->break_event.mean_mid ? -1 : 1;
    }
    return out;
}

/* --- Items ------------------------------------------------------------------------------------------- */

static void add_item(hf_document *d, const char *code, const hf_text *words) {
    const char *title = hf_report_caution_title(code);
    hf_document_addf(d, HF_BLOCK_ITEM, "%s%s%s", title ? title : "", title ? ": " : "",
                     words->bytes ? words->bytes : "");
}

/* "The normal law (significance 0.0025), the lognormal law (…) and the Weibull law (…) do not fit these pulls": all in one item. */
static void say_rejected(hf_document *d, const hf_cautions *list, hf_text *out) {
    size_t count = 0, at = 0;
    for (size_t i = 0; i < list->count; i++) count += is(&list->items[i], "fit_rejected");
    for (size_t i = 0; i < list->count; i++) {
        const hf_caution *c = &list->items[i];
        if (!is(c, "fit_rejected")) continue;
        hf_text_addf(out, "%s%s law (",
                     at == 0           ? "The "
                     : at + 1 == count ? " and the "
                                       : ", the ",
                     c->text[0] ? c->text[0] : "?");
        at++;
        /* No sample of the simulation lay as far out: below its resolution, not nothing. */
        if (c->number[0] > 0)
            hf_text_addf(out, "significance %s)", hf_figures_text(d, c->number[0], 2));
        else
            hf_text_add(out, "significance below 0.0005)");
    }
    hf_text_add(out,
                " do not fit these pulls; do not lean on their bounds. A significance below 0.05 rejects.");
}

static void say_first_rung(hf_document *d, const hf_cautions *list, const hf_caution *caution, hf_text *out) {
    hf_report_caution(caution, d->style, out);
    for (size_t i = 0; i < list->count; i++) {
        if (!is(&list->items[i], "first_rung_held")) continue;
        hf_text_add(out, " Note: ");
        hf_report_caution(&list->items[i], d->style, out);
    }
}

static bool several_rejected(const hf_cautions *list) {
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++) count += is(&list->items[i], "fit_rejected");
    return count > 1;
}

void hf_design_cautions_list(hf_document *d, const hf_design_assessment *a, const hf_cautions *list) {
    for (size_t i = 0; i < list->count; i++) {
        hf_text words = {0};
        const hf_caution caution = completed(a, &list->items[i]);
        if (hf_caution_is_merged(list, i)) continue;
        if (is(&caution, "fit_rejected") && several_rejected(list))
            say_rejected(d, list, &words);
        else if (is(&caution, "first_rung"))
            say_first_rung(d, list, &caution, &words);
        else
            hf_report_caution(&caution, d->style, &words);
        add_item(d, caution.code, &words);
        hf_text_free(&words);
    }
}
