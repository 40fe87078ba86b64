/* Conditions and traceability: what the file states, and that it does not where it does not. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/assess_words.h"
#include "handover/handover_report.h"

enum { STATED_FIGURES = 6 };

static const char not_stated[] = "not stated";

static const char *or_lost(const char *text) {
    return text ? text : "-";
}

static hf_block *pairs_table(hf_document *d, const char *caption) {
    static const char *const header[] = {"what", "as stated in the file", NULL};
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(d, table, caption);
    return table;
}

static void add_pair(hf_document *d, hf_block *table, const char *what, const char *stated) {
    const char *cells[] = {what, hf_or_not_stated(stated), NULL};
    hf_document_row(d, table, cells);
}

static void add_info(hf_document *d, hf_block *table, const hf_info *info) {
    for (size_t i = 0; i < info->count; i++)
        add_pair(d, table, hf_cut_text(d, info->pairs[i].key, HF_NAME_COLUMNS), info->pairs[i].value);
}

static const char *maybe_load(hf_document *d, hf_maybe load) {
    return load.given ? hf_show_text(d, HF_AS_STATED, load.value) : not_stated;
}

static const char *maybe_number(hf_document *d, hf_maybe number, const char *unit) {
    if (!number.given) return not_stated;
    return or_lost(hf_arena_format(d->arena, "%s%s", hf_show_text(d, HF_AS_GIVEN, number.value), unit));
}

/* --- The rig ----------------------------------------------------------------------------------------- */

static const char *records_words(hf_rig_records records) {
    switch (records) {
    case HF_RIG_RECORDS_ADDED:
        return "the weight added; the tare comes on top";
    case HF_RIG_RECORDS_TOTAL:
        return "the whole force in the line at the part";
    case HF_RIG_RECORDS_NONE:
        break;
    }
    return not_stated;
}

static const char *weights_words(hf_document *d, const hf_campaign *campaign) {
    hf_text text = {0};
    char number[HF_NUMBER_SIZE];
    for (size_t i = 0; i < campaign->weight_count; i++) {
        const hf_weight *weight = &campaign->weights[i];
        hf_text_addf(&text, "%s%zu × %s %s", i ? ", " : "", weight->count,
                     hf_number_shortest(weight->value, number), weight->unit->name);
    }
    const char *words = text.length ? hf_arena_text(d->arena, text.bytes, text.length) : NULL;
    hf_text_free(&text);
    return words;
}

static void add_rig(hf_document *d, const hf_campaign *campaign) {
    const hf_rig *rig = &campaign->rig;
    const hf_rig_force *force = &rig->force;
    hf_document_add(d, HF_BLOCK_HEADING, "The rig");
    hf_block *table = pairs_table(d, "The rig and how loads were measured");
    add_pair(d, table, "rig", rig->id);
    add_pair(d, table, "recorded loads are", records_words(force->records));
    add_pair(d, table, "tare (force with nothing added)",
             rig->tare_given ? hf_show_text(d, HF_AS_STATED, force->tare) : NULL);
    add_pair(d, table, "lever advantage",
             force->advantage == 1 ? "1: no lever stated" : hf_show_text(d, HF_AS_GIVEN, force->advantage));
    add_pair(d, table, "angle off the line of pull",
             force->angle_deg == 0
                 ? "0°: none stated"
                 : or_lost(hf_arena_format(d->arena, "%s°", hf_show_text(d, HF_AS_GIVEN, force->angle_deg))));
    add_pair(d, table, "rating", maybe_load(d, rig->rating));
    add_pair(d, table, "resolution of the scale", maybe_load(d, rig->resolution));
    add_pair(d, table, "dwell on each load", maybe_number(d, rig->dwell_s, " s"));
    add_pair(d, table, "calibration", rig->calibration);
    add_pair(d, table, "gravity",
             or_lost(hf_arena_format(d->arena, "%s m/s²%s", hf_show_text(d, HF_AS_GIVEN, campaign->gravity),
                                     campaign->gravity_given ? "" : " (not stated; standard gravity)")));
    add_pair(d, table, "weights", weights_words(d, campaign));
    add_info(d, table, &rig->info);
}

static const char *kind_words(hf_uncertainty_kind kind) {
    static const char *const words[] = {"standard uncertainty", "limits of error; counted as size ÷ √3",
                                        "expanded uncertainty; counted as size ÷ 2"};
    return words[kind];
}

/* As it was written, without idle zeros. */
static const char *share_stated(hf_document *d, double share) {
    char rounded[HF_NUMBER_SIZE];
    double percent = 100 * share;
    hf_number_figures(percent, STATED_FIGURES, rounded);
    (void)hf_number_read(rounded, strlen(rounded), &percent);
    return or_lost(hf_arena_format(d->arena, "%s %%", hf_show_text(d, HF_AS_GIVEN, percent)));
}

static void add_uncertainty(hf_document *d, const hf_rig *rig) {
    static const char *const header[] = {"source of error", ">size", "kind", NULL};
    if (!rig->uncertainty_count) {
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "Errors of the rig: not stated. Nothing is taken off for them.");
        return;
    }
    hf_block *table = hf_document_table(d, header);
    hf_document_caption(d, table, "Errors of the rig; they are common to all pulls and are taken off once");
    for (size_t i = 0; i < rig->uncertainty_count; i++) {
        const hf_uncertainty *line = &rig->uncertainty[i];
        const char *cells[] = {hf_or_not_stated(line->source),
                               line->relative > 0 ? share_stated(d, line->relative)
                                                  : hf_show_text(d, HF_AS_STATED, line->load),
                               kind_words(line->kind), NULL};
        hf_document_row(d, table, cells);
    }
}

/* --- The whole test ---------------------------------------------------------------------------------- */

static void add_dates(hf_document *d, hf_block *table, const hf_campaign *campaign) {
    const char *first = NULL, *last = NULL;
    for (size_t i = 0; i < campaign->design_count; i++)
        for (size_t j = 0; j < campaign->designs[i].specimen_count; j++) {
            const char *date = campaign->designs[i].specimens[j].date;
            if (date && (!first || strcmp(date, first) < 0)) first = date;
            if (date && (!last || strcmp(date, last) > 0)) last = date;
        }
    bool one = first && strcmp(first, last) == 0;
    add_pair(d, table, "pulled", !first || one ? first : hf_arena_format(d->arena, "%s to %s", first, last));
}

static void add_test(hf_document *d, const hf_campaign *campaign) {
    hf_block *table = pairs_table(d, "The test as a whole");
    add_pair(d, table, "title", campaign->title);
    add_pair(d, table, "file", campaign->file);
    add_dates(d, table, campaign);
    add_pair(d, table, "plan written", campaign->plan.given ? campaign->plan.made : NULL);
    add_info(d, table, &campaign->info);
}

/* --- Designs ----------------------------------------------------------------------------------------- */

static const char *scatter_words(hf_document *d, const hf_scatter *scatter) {
    if (!scatter->given) return NULL;
    bool assumed = isinf(scatter->degrees_of_freedom);
    return hf_arena_format(d->arena, "%s, %s%s, source: %s", hf_show_text(d, HF_AS_SHARE, scatter->cv),
                           assumed ? "assumed" : hf_show_text(d, HF_AS_GIVEN, scatter->degrees_of_freedom),
                           assumed ? "" : " degrees of freedom", hf_or_not_stated(scatter->source));
}

static const char *law_words(hf_document *d, const hf_design *design) {
    if (!design->family) return NULL;
    return hf_arena_format(d->arena, "%s; reason: %s", design->family->name,
                           hf_or_not_stated(design->family_reason));
}

static const char *guess_words(hf_document *d, const hf_stated_guess *guess) {
    if (!guess->mean.given && !guess->cv.given) return NULL;
    return hf_arena_format(d->arena, "mean %s, scatter %s", maybe_load(d, guess->mean),
                           guess->cv.given ? hf_show_text(d, HF_AS_SHARE, guess->cv.value) : not_stated);
}

static void add_goal(hf_document *d, hf_block *table, const hf_goal *goal) {
    add_pair(d, table, "content wanted",
             or_lost(hf_arena_format(d->arena, "%s%s", hf_show_text(d, HF_AS_SHARE_STATED, goal->content),
                                     goal->content_given ? "" : " (not stated; the usual one)")));
    add_pair(d, table, "confidence wanted",
             or_lost(hf_arena_format(d->arena, "%s%s", hf_show_text(d, HF_AS_SHARE_STATED, goal->confidence),
                                     goal->confidence_given ? "" : " (not stated; the usual one)")));
    if (goal->looks.given)
        add_pair(d, table, "looks stated before the pulls", hf_look_plan_text(d, &goal->looks));
    add_pair(d, table, "design factor", maybe_number(d, goal->design_factor, ""));
    add_pair(d, table, "set factor", maybe_number(d, goal->set_factor, ""));
    for (size_t i = 0; i < goal->use_factor_count; i++)
        add_pair(d, table, "factor of use",
                 or_lost(hf_arena_format(d->arena, "%s: %s",
                                         hf_show_text(d, HF_AS_GIVEN, goal->use_factors[i].factor),
                                         hf_or_not_stated(goal->use_factors[i].reason))));
    add_pair(d, table, "required bound", maybe_load(d, goal->required_bound));
    add_pair(d, table, "service load", maybe_load(d, goal->service_load));
}

static void add_design(hf_document *d, const hf_design *design) {
    const char *caption =
        hf_arena_format(d->arena, "The design %s, and what was asked of it", hf_design_name(d, design));
    hf_document_add(d, HF_BLOCK_HEADING, hf_design_name(d, design));
    hf_block *table = pairs_table(d, or_lost(caption));
    add_pair(d, table, "id in the file", design->id);
    if (!design->name || strcmp(design->name, design->id) != 0) add_pair(d, table, "name", design->name);
    add_info(d, table, &design->info);
    add_pair(d, table, "strength law", law_words(d, design));
    add_pair(d, table, "scatter known from elsewhere", scatter_words(d, &design->scatter));
    add_pair(d, table, "guess before the test", guess_words(d, &design->guess));
    add_goal(d, table, &design->goal);
}

void hf_handover_conditions(hf_document *d, const hf_study *study) {
    const hf_campaign *campaign = study->campaign;
    d->chapter = true;
    add_test(d, campaign);
    add_rig(d, campaign);
    add_uncertainty(d, &campaign->rig);
    for (size_t i = 0; i < campaign->design_count; i++) add_design(d, &campaign->designs[i]);
    d->chapter = false;
}
