/* Where one stands among the looks, and what going on costs. */
#include <math.h>
#include "words/assess_words.h"

static const char *or_lost(const char *text) {
    return text ? text : "?";
}

static const char *confidence_text(hf_document *d, double confidence) {
    return hf_show_text(d, HF_AS_CONFIDENCE, confidence);
}

const char *hf_look_plan_text(hf_document *d, const hf_stated_looks *looks) {
    if (looks->count == 1) return or_lost(hf_arena_format(d->arena, "after %zu parts", looks->first));
    if (looks->every == 1)
        return or_lost(
            hf_arena_format(d->arena, "after every part from %zu to %zu", looks->first, looks->last));
    const char *all = "";
    for (size_t i = 0; i < looks->count; i++)
        all = or_lost(hf_arena_format(d->arena, "%s%s%zu", all,
                                      !i                      ? ""
                                      : i + 1 == looks->count ? " and "
                                                              : ", ",
                                      looks->parts[i]));
    return or_lost(hf_arena_format(d->arena, "after %s parts", all));
}

static const char *stand_text(hf_document *d, const hf_design_looks *looks) {
    const char *plan = hf_look_plan_text(d, &looks->plan);
    switch (looks->stand) {
    case HF_LOOK_STATED:
        if (!looks->next)
            return or_lost(hf_arena_format(d->arena, "Look %zu of %zu, the last one (stated: %s).",
                                           looks->number, looks->plan.count, plan));
        return or_lost(hf_arena_format(
            d->arena, "Look %zu of %zu (stated: %s): stop when this is enough, or go on to %zu parts.",
            looks->number, looks->plan.count, plan, looks->next));
    case HF_LOOK_BEFORE_FIRST:
    case HF_LOOK_BETWEEN:
        return or_lost(hf_arena_format(d->arena, "Not a stated look (stated: %s): go on to %zu parts.", plan,
                                       looks->next));
    case HF_LOOK_PAST_LAST:
        return or_lost(hf_arena_format(d->arena, "Past the last look (stated: %s).", plan));
    case HF_LOOK_NOT_STATED:
        break;
    }
    return "";
}

static void say_picked(hf_document *d, const hf_design_assessment *a) {
    if (!a->promise.picked_from) return;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "The best of %zu designs is picked: so each bound is %s, and whichever comes out best keeps "
        "%s.",
        a->promise.picked_from,
        a->promise.looks.plan.count > 1 && a->promise.looks.stand != HF_LOOK_PAST_LAST
            ? "taken at more than that"
            : or_lost(
                  hf_arena_format(d->arena, "taken at %s confidence", confidence_text(d, a->promise.used))),
        hf_show_text(d, HF_AS_SHARE_STATED, a->confidence));
}

void hf_looks_words(hf_document *d, const hf_design_assessment *a) {
    const hf_design_looks *looks = &a->promise.looks;
    say_picked(d, a);
    if (!looks->plan.given || !looks->now) return;
    const char *each = "";
    if (looks->plan.count > 1 && a->promise.used != a->confidence)
        each = or_lost(hf_arena_format(
            d->arena, " Each look is taken at %s confidence%s, so that all of them together keep %s%s.",
            confidence_text(d, looks->plan.early > 0 && looks->next ? looks->plan.early : looks->used),
            looks->plan.early > 0 && looks->next
                ? or_lost(hf_arena_format(d->arena, " and the last one at %s",
                                          confidence_text(d, looks->each.confidence)))
                : "",
            hf_show_text(d, HF_AS_SHARE_STATED, a->confidence),
            a->promise.picked_from ? ", whichever design is picked" : ""));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s%s", stand_text(d, looks), each);
}

const char *hf_going_on_words(hf_document *d, const hf_design_assessment *a) {
    const hf_design_looks *looks = &a->promise.looks;
    if (looks->plan.given || !looks->on_to) return "";
    const char *every = isnan(looks->worth_every) || looks->worth_every == looks->worth
                            ? ""
                            : or_lost(hf_arena_format(d->arena, ", and with a look after every pull %s",
                                                      hf_show_text(d, HF_AS_SHARE_KEPT, looks->worth_every)));
    return or_lost(hf_arena_format(
        d->arena,
        " Going on costs: with a look now and one after %zu parts, %s confidence is worth %s%s; looks that "
        "are stated before the pulls cost nothing (key \"looks\").",
        looks->on_to, hf_show_text(d, HF_AS_SHARE_STATED, a->confidence),
        hf_show_text(d, HF_AS_SHARE_KEPT, looks->worth), every));
}

const char *hf_confidence_words(hf_document *d, const hf_design_assessment *a) {
    const char *whole = hf_show_text(d, HF_AS_SHARE_STATED, a->confidence);
    const size_t from = a->promise.picked_from;
    if (a->promise.used == a->confidence) return "";
    if (!from)
        return or_lost(hf_arena_format(d->arena, ", that of each look, so that all together keep %s", whole));
    return or_lost(hf_arena_format(d->arena,
                                   ", that of each %s of %zu designs, so that the one picked keeps %s",
                                   a->promise.looks.plan.count > 1 ? "look at each" : "bound", from, whole));
}

/* The unrounded load would be finer than its cell: loads to work with as ratings, else bounds as bounds. */
static const char *promise_cell(hf_document *d, const hf_design_assessment *a, const hf_other_promise *one,
                                bool *stated) {
    bool rated = a->design->goal.design_factor.given;
    const char *load =
        rated ? hf_bare_text(d, HF_AS_RATING, one->working_load) : hf_bound_cell(d, one->bound);
    if (one->content != a->content || one->confidence != a->confidence) return load;
    *stated = true;
    return or_lost(hf_arena_format(d->arena, "%s *", load));
}

void hf_promises_table(hf_document *d, const hf_design_assessment *a) {
    const char *header[HF_OTHER_CONFIDENCES + 2] = {"carried by"};
    bool any = false, stated = false;
    for (size_t i = 0; i < HF_OTHER_PROMISES; i++) any |= isfinite(a->other[i].bound);
    if (!any) return;
    for (size_t j = 0; j < HF_OTHER_CONFIDENCES; j++)
        header[j + 1] = or_lost(hf_arena_format(d->arena, ">%s confidence",
                                                hf_show_text(d, HF_AS_SHARE_STATED, a->other[j].confidence)));
    hf_document_add(d, HF_BLOCK_HEADING, "What another promise would give");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < HF_OTHER_CONTENTS; i++) {
        const hf_other_promise *row = &a->other[i * HF_OTHER_CONFIDENCES];
        const char *cells[HF_OTHER_CONFIDENCES + 2] = {or_lost(
            hf_arena_format(d->arena, "%s of parts", hf_show_text(d, HF_AS_SHARE_STATED, row->content)))};
        for (size_t j = 0; j < HF_OTHER_CONFIDENCES; j++) cells[j + 1] = promise_cell(d, a, &row[j], &stated);
        hf_document_row(d, table, cells);
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%s in %s, of the same pulls%s. Choose before the pulls: whoever takes the cell that pleases "
        "keeps none of these promises.",
        a->design->goal.design_factor.given ? "Working load" : "Bound", d->style->unit->name,
        stated ? "; * is what is promised here" : "");
}
