/* Looks of a design as JSON. */
#include "words/json_fields.h"

static const char *const look_stands[] = {HF_LOOK_STANDS, NULL};

static hf_found count_or_null(size_t count) {
    return hf_found_number(count ? (double)count : NAN, NULL);
}

#define LOOKS_OF(p) (&((const hf_design_assessment *)(p)->item)->promise.looks)
static hf_found looks_stand(const hf_place *p) {
    return hf_found_text(look_stands[LOOKS_OF(p)->stand], NULL);
}

static hf_found looks_first(const hf_place *p) {
    return count_or_null(LOOKS_OF(p)->plan.first);
}

static hf_found looks_last(const hf_place *p) {
    return count_or_null(LOOKS_OF(p)->plan.last);
}

static hf_found looks_every(const hf_place *p) {
    return count_or_null(LOOKS_OF(p)->plan.every);
}

static hf_found looks_number(const hf_place *p) {
    return count_or_null(LOOKS_OF(p)->number);
}

static hf_found looks_next(const hf_place *p) {
    return count_or_null(LOOKS_OF(p)->next);
}

static hf_found looks_on_to(const hf_place *p) {
    return count_or_null(LOOKS_OF(p)->on_to);
}

static const void *next_look(const hf_place *p, size_t at) {
    const hf_stated_looks *plan = &LOOKS_OF(p)->plan;
    return at < plan->count ? &plan->parts[at] : NULL;
}
#undef LOOKS_OF

static const hf_field look_field = {.kind = HF_FIELD_COUNT};

static const char *looks_why(const hf_place *p) {
    const hf_design_looks *looks = &((const hf_design_assessment *)p->item)->promise.looks;
    return looks->plan.given ? "not_worked_out" : "not_stated";
}

#define OF hf_design_assessment
static const hf_field looks_fields[] = {
    HF_FOUND(TEXT, "stand", looks_stand),
    HF_FOUND_OR(NUMBER, "first", looks_first, NULL),
    HF_FOUND_OR(NUMBER, "last", looks_last, NULL),
    HF_FOUND_OR(NUMBER, "every", looks_every, NULL),
    {.key = "at", .kind = HF_FIELD_ARRAY, .next = next_look, .each = &look_field},
    HF_MEMBER(COUNT, "now", promise.looks.now),
    HF_FOUND_OR(NUMBER, "number", looks_number, NULL),
    HF_FOUND_OR(NUMBER, "next", looks_next, NULL),
    HF_MAYBE(NUMBER, "per_look_confidence", promise.looks.each.confidence, NULL),
    HF_MAYBE(NUMBER, "per_look_standard_error", promise.looks.each.standard_error, NULL),
    HF_MAYBE(NUMBER, "worth_if_plain", promise.looks.each.plain, NULL),
    HF_FOUND_OR(NUMBER, "on_to", looks_on_to, NULL),
    HF_MAYBE(NUMBER, "worth", promise.looks.worth, NULL),
    HF_MAYBE(NUMBER, "worth_every", promise.looks.worth_every, NULL),
    HF_FIELDS_END};
#undef OF
const hf_record hf_json_looks = {.name = "looks", .fields = looks_fields, .why = looks_why};
