/* The answer of a design as JSON; its keys are fixed. */
#include "holdfast/base/number.h"
#include "study/limits.h"
#include "words/json_fields.h"
#include "words/words.h"

static const hf_design_assessment *design_of(const hf_place *p) {
    return p->outer->item;
}

static const char *verdict_why(const hf_place *p) {
    return hf_answer_verdict_code(((const hf_answer *)p->item)->verdict);
}

/* Rounded down in the unit shown, so that three figures stay three figures. */
static hf_found answer_load(const hf_place *p) {
    const hf_answer *answer = p->item;
    return hf_found_number(hf_number_round_down(hf_in_unit(p->style, answer->unrounded), HF_RATING_FIGURES),
                           NULL);
}

static hf_found answer_mass_unit(const hf_place *p) {
    return hf_found_text(((const hf_answer *)p->item)->mass_unit->name, NULL);
}

static hf_found answer_bound(const hf_place *p) {
    const hf_answer *answer = p->item;
    return hf_found_number(answer->verdict >= HF_ANSWER_BOUND_ONLY ? answer->bound->value : NAN, NULL);
}

static hf_found answer_law(const hf_place *p) {
    const hf_answer *answer = p->item;
    return hf_found_text(answer->if_law ? answer->if_law->name : NULL, NULL);
}

static hf_found answer_caution(const hf_place *p) {
    int worst = ((const hf_answer *)p->item)->worst_caution;
    return hf_found_text(worst < 0 ? NULL : hf_caution_row_of(design_of(p)->cautions.items[worst].code)->code,
                         NULL);
}

static const char *const verdicts[] = {HF_ANSWER_VERDICTS, NULL};
const char *const hf_json_mets[] = {HF_METS, NULL};
#define HF_NEXT(name, code) code,
static const char *const nexts[] = {HF_NEXT_LIST(HF_NEXT) NULL};
#undef HF_NEXT

#define OF hf_answer
static const hf_field answer_fields[] = {HF_WORD("verdict", verdict, verdicts),
                                         HF_FOUND_OR(NUMBER, "working_load", answer_load, NULL),
                                         HF_MAYBE(NUMBER, "working_load_mass", working_load_mass, NULL),
                                         HF_FOUND(TEXT, "mass_unit", answer_mass_unit),
                                         HF_FOUND_OR(LOAD, "bound", answer_bound, NULL),
                                         HF_MEMBER(NUMBER, "content", content),
                                         HF_MEMBER(NUMBER, "confidence", confidence),
                                         HF_MEMBER(NUMBER, "confidence_used", confidence_used),
                                         HF_FOUND_OR(TEXT, "if_law", answer_law, "by_rule"),
                                         HF_WORD("required", required, hf_json_mets),
                                         HF_WORD("service", service, hf_json_mets),
                                         HF_FOUND_OR(TEXT, "worst_caution", answer_caution, "none"),
                                         HF_WORD("next", next, nexts),
                                         HF_FIELDS_END};
#undef OF
const hf_record hf_json_answer = {.name = "answer", .fields = answer_fields, .why = verdict_why};
