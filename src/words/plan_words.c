/* Loads hung and weights in words, for the plan and the worksheet; the pilot in words. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/plan_report.h"

/* "4x10 kg + 1x5 kg" in the units the weights are owned in. */
const char *hf_weights_text(hf_arena *arena, const hf_plan *plan, const hf_weight_load *load) {
    hf_text text = {0};
    char number[HF_NUMBER_SIZE];
    for (size_t i = 0; i < plan->setup.weight_count; i++) {
        const hf_weight *weight = &plan->setup.weights[i];
        if (load->count[i] > 0)
            hf_text_addf(&text, "%s%dx%s %s", text.length ? " + " : "", load->count[i],
                         hf_number_shortest(weight->value, number), weight->unit->name);
    }
    const char *out = hf_arena_text(arena, text.bytes ? text.bytes : "", text.length);
    hf_text_free(&text);
    return out ? out : "";
}

const char *hf_plan_premise(const hf_plan *plan) {
    return plan->cv_source == HF_PLAN_CV_FITTED ? "these pulls show the true mean and scatter"
                                                : "the guess is true";
}

double hf_plan_added(const hf_plan *plan, double force) {
    double added = hf_rig_added_of_force(&plan->setup.force, force);
    char number[HF_NUMBER_SIZE]; /* twelve figures, as it is written into the file */
    hf_number_figures(added, 12, number);
    return hf_number_read(number, strlen(number), &added) ? added : NAN;
}

/* How wide the rungs came out, and whether the ladder spans what was asked. */
void hf_plan_say_pilot(hf_document *d, const hf_plan *plan) {
    const hf_ladder *ladder = &plan->ladder;
    const hf_plan_setup *s = &plan->setup;
    double first = ladder->loads[0], last = ladder->loads[ladder->count - 1], widest = 1;
    bool short_of = last < s->pilot_top * (1 - 1e-6);
    for (size_t i = 1; i < ladder->count; i++) widest = fmax(widest, ladder->loads[i] / ladder->loads[i - 1]);
    hf_document_add(d, HF_BLOCK_ANSWER, "Pilot: pull one part on this ladder, then plan with what it shows.");
    if (widest > s->pilot_ratio * (1 + 1e-6))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The weights make it coarser than wanted: a rung is up to %s above the one before, "
                         "where %s is wanted. One pull shows the strength no finer than that.",
                         hf_show_text(d, HF_AS_SHARE, widest - 1),
                         hf_show_text(d, HF_AS_SHARE, s->pilot_ratio - 1));
    else if (ladder->count > 1)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "No rung is more than %s above the one before, so one pull finds the range, if the "
                         "part breaks between %s and %s.",
                         hf_show_text(d, HF_AS_SHARE, s->pilot_ratio - 1),
                         hf_show_text(d, HF_AS_ROUGH, first), hf_show_text(d, HF_AS_ROUGH, last));
    if (first > s->pilot_start * (1 + 1e-6))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The ladder begins at %s where %s was asked: no lighter load can be made.",
                         hf_show_text(d, HF_AS_ROUGH, first), hf_show_text(d, HF_AS_STATED, s->pilot_start));
    if (short_of)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The ladder ends at %s where %s was asked: %s. A stronger part outlasts it and "
                         "shows only that it is stronger.",
                         hf_show_text(d, HF_AS_ROUGH, last), hf_show_text(d, HF_AS_STATED, s->pilot_top),
                         ladder->end == HF_LADDER_ENDS_RATING ? "the rig may carry no more"
                                                              : "the weights make no more");
}

static const char *const safety[] = {
    "Nobody under, in line with or astride the pull. Bystanders and children away, behind a sheet of ply or "
    "polycarbonate.",
    "Weights hang at most 50 mm above a pad; a slack catch line on the weights and on the top fitting.",
    "Eye protection with side shields, sturdy shoes; hair, cords and cuffs tied.",
    "The rig is rated at least twice the highest rung and was proof-pulled; every link is stronger than the "
    "part.",
    "Add gently, never drop. Hands clear before each dwell; never lean in to read.",
    "Stop at a creak of the rig, a lean, or creep that does not settle: lower the load. Not \"just one "
    "more\".",
    "Unload by lowering or jacking, never by cutting. A part that did not break is still dangerous: scrap it "
    "or mark it.",
    "Not for lifting or holding people. Local codes and licensed practice win over this sheet.",
};

const char *hf_safety_item(size_t at) {
    return at < sizeof safety / sizeof *safety ? safety[at] : NULL;
}
