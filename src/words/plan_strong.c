/* How strong a typical part must be, in words and as data. */
#include <math.h>
#include "words/json_fields.h"
#include "words/plan_report.h"
#include "words/words.h"

/* A bound as the load in use that it covers, where the factors are stated. */
static double in_use(const hf_plan *plan, double bound) {
    return isnan(plan->setup.factor) ? bound : bound / plan->setup.factor;
}

static void add_limit(hf_document *d, const hf_plan_strong *strong) {
    const hf_plan *plan = &strong->plan;
    const char *list = "";
    if (isinf(plan->reach)) return;
    hf_plan_say_reach(d, plan);
    for (size_t i = 0; i < strong->count; i++) {
        const hf_plan_strong_row *row = &strong->rows[i];
        if (!isnan(row->shown) && list)
            list = hf_arena_format(d->arena, "%s%s%s with %zu parts", list, *list ? ", " : "",
                                   hf_show_text(d, HF_AS_RATING, in_use(plan, row->shown)), row->parts);
    }
    if (list && *list && isnan(plan->setup.factor))
        hf_document_addf(d, HF_BLOCK_ANSWER, "Parts that can be broken here show a bound of at most %s.",
                         list);
    else if (list && *list)
        hf_document_addf(
            d, HF_BLOCK_ANSWER,
            "Parts that can be broken here show, with factors of %s in all, at most so much in use: %s.",
            hf_show_text(d, HF_AS_GIVEN, plan->setup.factor), list);
}

static void add_rows(hf_document *d, const hf_plan_strong *strong) {
    const hf_plan *plan = &strong->plan;
    const char *header[] = {"parts", ">typical part", ">of required", ">up to", NULL, NULL};
    if (isfinite(plan->reach)) header[4] = isnan(plan->setup.factor) ? ">here at most" : ">here in use";
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < strong->count; i++) {
        const hf_plan_strong_row *row = &strong->rows[i];
        const char *cells[6] = {hf_arena_format(d->arena, "%zu", row->parts), "none", "-", "-", NULL, NULL};
        if (!isnan(row->mean)) {
            cells[1] = hf_show_text(d, HF_AS_ROUGH, row->mean);
            cells[2] = hf_ratio_text(d, row->mean / plan->setup.required);
            cells[3] = hf_show_text(d, HF_AS_ROUGH, row->top);
        }
        if (header[4])
            cells[4] = isnan(row->shown) ? "-" : hf_show_text(d, HF_AS_RATING, in_use(plan, row->shown));
        hf_document_row(d, table, cells);
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Typical part: the mean strength with which so many parts show the required bound with a "
        "chance of %s. Up to: what must be hung to break 999 of 1000 such parts.%s",
        hf_show_text(d, HF_AS_SHARE, plan->setup.assurance),
        !header[4]                  ? ""
        : isnan(plan->setup.factor) ? " Here at most: the bound that the parts can show which this "
                                      "rig and these weights still break."
                                    : " Here in use: the load in use that the parts can show which "
                                      "this rig and these weights still break.");
}

static void strong_document(const void *result, hf_document *d) {
    const hf_plan_strong *strong = result;
    const hf_plan *plan = &strong->plan;
    const hf_plan_setup *s = &plan->setup;
    const hf_plan_strong_row *last = &strong->rows[strong->count - 1];
    hf_document_addf(d, HF_BLOCK_TITLE, "%s",
                     plan->campaign && plan->campaign->title[0] ? plan->campaign->title
                                                                : "How strong a part must be");
    add_limit(d, strong);
    if (isnan(last->mean))
        hf_document_addf(d, HF_BLOCK_ANSWER, "No strength is enough for %zu parts.", last->parts);
    else
        hf_document_addf(d, HF_BLOCK_ANSWER, "%zu parts show %s if a typical one holds about %s.",
                         last->parts, hf_show_text(d, HF_AS_STATED, s->required),
                         hf_show_text(d, HF_AS_ROUGH, last->mean));
    hf_plan_say_calibration(d, plan);
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Scatter %s%s; %s of all parts stronger with %s confidence. Fewer parts must be stronger, "
        "because less is known of them.",
        hf_show_text(d, HF_AS_SHARE, s->cv), plan->cv_source == HF_PLAN_CV_STATED ? ", as stated" : "",
        hf_show_text(d, HF_AS_SHARE_STATED, s->content), hf_show_text(d, HF_AS_SHARE_STATED, s->confidence));
    add_rows(d, strong);
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    plan->stepped
                        ? "In steps of half a standard deviation up to four parts, of one for more, by any "
                          "weights; a guess of the mean (--mean) plans the ladder from yours."
                        : "For continuous readings; --tare, --rating and --weights plan for steps.");
    hf_rig_safety(d);
    hf_limits(d);
}

static const hf_plan_strong *strong_of(const hf_place *p) {
    return p->item;
}

static hf_found file_of(const hf_place *p) {
    return hf_found_item(strong_of(p)->plan.campaign);
}

static bool from_file(const hf_place *p) {
    return strong_of(p)->plan.campaign != NULL;
}

static bool without_file(const hf_place *p) {
    return !from_file(p);
}

static hf_found unit_shown(const hf_place *p) {
    return hf_found_text(p->style->unit->name, NULL);
}

static hf_found seed_of(const hf_place *p) {
    return hf_found_count((size_t)strong_of(p)->plan.setup.seed);
}

static hf_found reach(const hf_place *p) {
    double most = strong_of(p)->plan.reach;
    return hf_found_number(isinf(most) ? NAN : most, NULL);
}

static const void *next_row(const hf_place *p, size_t at) {
    return at < strong_of(p)->count ? &strong_of(p)->rows[at] : NULL;
}

static hf_found shown_in_use(const hf_place *p) {
    const hf_plan *plan = &strong_of(p->outer)->plan;
    double shown = ((const hf_plan_strong_row *)p->item)->shown;
    return hf_found_number(isnan(plan->setup.factor) ? NAN : in_use(plan, shown),
                           isnan(plan->setup.factor) ? "no_factor" : NULL);
}

#define OF hf_plan_strong_row
static const hf_field row_fields[] = {HF_MEMBER(COUNT, "parts", parts),
                                      HF_MAYBE(LOAD, "mean", mean, "none_enough"),
                                      HF_MAYBE(LOAD, "up_to", top, "none_enough"),
                                      HF_MAYBE(LOAD, "bound_at_most", shown, "not_limited"),
                                      HF_FOUND_OR(LOAD, "in_use_at_most", shown_in_use, "not_limited"),
                                      HF_FIELDS_END};
#undef OF
static const hf_record row_record = {.name = "strength_needed", .fields = row_fields};

#define OF hf_plan_strong
static const hf_field strong_fields[] = {
    {.kind = HF_FIELD_INLINE, .find = file_of, .record = &hf_json_file, .given = from_file},
    {.key = "unit", .kind = HF_FIELD_TEXT, .find = unit_shown, .given = without_file},
    HF_FOUND(COUNT, "seed", seed_of),
    HF_MAYBE(TEXT, "design", plan.setup.design, "no_file"),
    HF_MEMBER(NUMBER, "content", plan.setup.content),
    HF_MEMBER(NUMBER, "confidence", plan.setup.confidence),
    HF_MEMBER(NUMBER, "cv", plan.setup.cv),
    HF_MEMBER(NUMBER, "assurance", plan.setup.assurance),
    HF_MEMBER(BOOL, "stepped", plan.stepped),
    HF_MEMBER(BOOL, "required_by_service_load", plan.setup.by_service),
    HF_MAYBE(LOAD, "required", plan.setup.required, "not_stated"),
    HF_MAYBE(NUMBER, "factor", plan.setup.factor, "not_stated"),
    HF_OBJECT("calibration", plan.calibration, &hf_json_calibration),
    HF_FOUND_OR(LOAD, "most_force", reach, "not_limited"),
    HF_LIST("samples", next_row, &row_record),
    HF_FIELDS_END};
#undef OF
static const hf_record strong_record = {.name = "plan-strength", .fields = strong_fields};

const hf_report_kind hf_report_plan_strong = {"plan-strength", strong_document, &strong_record};
