/* Looks in a plan: the bound at each of them, and what they buy. */
#include <math.h>
#include "words/assess_words.h"
#include "words/json_fields.h"
#include "words/plan_report.h"

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

static void say_confidence(hf_document *d, const hf_plan *plan) {
    const hf_stated_looks *stated = &plan->setup.looks;
    const hf_plan_looks *looks = &plan->looks;
    const char *all = hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.confidence),
               *each = hf_show_text(d, HF_AS_CONFIDENCE, looks->each.confidence);
    if (stated->count == 1)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "One look, %s, at the full %s confidence.",
                         hf_look_plan_text(d, stated), all);
    else if (stated->early > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "A bound %s: at %s confidence, the last one at %s, so that all together keep %s.",
                         hf_look_plan_text(d, stated), hf_show_text(d, HF_AS_CONFIDENCE, stated->early), each,
                         all);
    else
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "A bound %s, each at %s confidence, so that all together keep %s. Taken at %s itself "
            "they would keep %s.",
            hf_look_plan_text(d, stated), each, all, all,
            hf_show_text(d, HF_AS_SHARE_KEPT, looks->each.plain));
}

static void say_gain(hf_document *d, const hf_plan *plan) {
    const hf_plan_looks *looks = &plan->looks;
    if (!looks->samples) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Who stops at the first look that is enough reaches the required bound in %s of such "
                     "tests, after %s parts on the average; %zu parts looked at once reach it in %s.",
                     hf_show_text(d, HF_AS_CHANCE, looks->gain.reached),
                     hf_show_text(d, HF_AS_NUMBER, looks->gain.parts), looks->fixed_parts,
                     hf_show_text(d, HF_AS_CHANCE, looks->fixed.reached));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu simulated tests with exact readings; standard errors %s, %s parts and %s.",
                     looks->samples, hf_show_text(d, HF_AS_SHARE_ROUGH, looks->gain.reached_error),
                     hf_show_text(d, HF_AS_NUMBER_ROUGH, looks->gain.parts_error),
                     hf_show_text(d, HF_AS_SHARE_ROUGH, looks->fixed.reached_error));
}

static const char *load_or_none(hf_document *d, double newtons) {
    return isfinite(newtons) ? hf_show_text(d, HF_AS_ROUGH, newtons) : "none";
}

void hf_plan_say_looks(hf_document *d, const hf_plan *plan) {
    const hf_plan_looks *looks = &plan->looks;
    bool required = !isnan(plan->setup.required);
    const char *const header[] = {
        "look after", ">k", ">expected", ">10 % below", ">10 % above", required ? ">enough" : NULL, NULL};
    if (!looks->rows) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Looking while the parts are pulled");
    say_confidence(d, plan);
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < looks->count; i++) {
        const hf_how_many_row *row = &looks->rows[i];
        const char *cells[] = {or_dash(hf_arena_format(d->arena, "%zu parts", row->n)),
                               hf_show_text(d, HF_AS_FACTOR, row->k),
                               load_or_none(d, row->expected),
                               load_or_none(d, row->low),
                               load_or_none(d, row->high),
                               required ? hf_show_text(d, HF_AS_CHANCE_ROUGH, row->assurance) : NULL,
                               NULL};
        hf_document_row(d, table, cells);
    }
    say_gain(d, plan);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Stop at any of them when it is enough, or give up when it cannot be; a look between "
                     "them costs extra.%s",
                     plan->setup.looks_asked ? " They count only where the file states them before the first "
                                               "pull: --write puts them there."
                                             : "");
}

/* --- JSON -------------------------------------------------------------------------------------------- */

static const hf_plan *plan_of(const hf_place *p) {
    return p->item;
}

static hf_found early_of(const hf_place *p) {
    double early = plan_of(p)->setup.looks.early;
    return hf_found_number(early > 0 ? early : NAN, NULL);
}

static hf_found every_of(const hf_place *p) {
    size_t every = plan_of(p)->setup.looks.every;
    return hf_found_number(every ? (double)every : NAN, NULL);
}

static const void *next_row(const hf_place *p, size_t at) {
    const hf_plan_looks *looks = &plan_of(p)->looks;
    return at < looks->count ? &looks->rows[at] : NULL;
}

#define OF hf_how_many_row
static const hf_field row_fields[] = {HF_MEMBER(COUNT, "n", n),
                                      HF_MEMBER(NUMBER, "k", k),
                                      HF_MAYBE(LOAD, "expected_bound", expected, "no_bound"),
                                      HF_MAYBE(LOAD, "low", low, "no_bound"),
                                      HF_MAYBE(LOAD, "high", high, "no_bound"),
                                      HF_MAYBE(NUMBER, "assurance", assurance, "not_stated"),
                                      HF_FIELDS_END};
#undef OF
static const hf_record row_record = {.name = "plan_look", .fields = row_fields};

static bool is_required(const hf_place *p) {
    return plan_of(p)->looks.samples > 0;
}

#define OF hf_plan
static const hf_field gain_fields[] = {
    HF_MEMBER(COUNT, "samples", looks.samples),
    HF_MEMBER(NUMBER, "reached", looks.gain.reached),
    HF_MEMBER(NUMBER, "reached_standard_error", looks.gain.reached_error),
    HF_MEMBER(NUMBER, "mean_parts", looks.gain.parts),
    HF_MEMBER(NUMBER, "mean_parts_standard_error", looks.gain.parts_error),
    HF_MEMBER(COUNT, "fixed_parts", looks.fixed_parts),
    HF_MEMBER(NUMBER, "fixed_reached", looks.fixed.reached),
    HF_MEMBER(NUMBER, "fixed_reached_standard_error", looks.fixed.reached_error),
    HF_FIELDS_END};
static const hf_record gain_record = {.name = "looks_gain", .fields = gain_fields};

static const hf_field fields[] = {
    HF_MEMBER(COUNT, "first", setup.looks.first),
    HF_MEMBER(COUNT, "last", setup.looks.last),
    HF_FOUND_OR(NUMBER, "every", every_of, "list"),
    HF_FOUND_OR(NUMBER, "early", early_of, "not_stated"),
    HF_MEMBER(NUMBER, "per_look_confidence", looks.each.confidence),
    HF_MEMBER(NUMBER, "per_look_standard_error", looks.each.standard_error),
    HF_MEMBER(NUMBER, "worth_if_plain", looks.each.plain),
    HF_LIST("rows", next_row, &row_record),
    {.key = "gain", .kind = HF_FIELD_OBJECT, .record = &gain_record, .given = is_required},
    HF_FIELDS_END};
#undef OF
const hf_record hf_json_plan_looks = {.name = "plan_looks", .fields = fields};
