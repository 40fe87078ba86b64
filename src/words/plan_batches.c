/* Batches in a plan: what spreading the parts over them brings. */
#include <math.h>
#include "words/assess_words.h"
#include "words/json_fields.h"
#include "words/plan_report.h"

static const char *or_dash(const char *text) {
    return text ? text : "-";
}

/* "3 × 4", "4, 3 and 3" as "3 × 3 or 4" */
static const char *layout_text(hf_document *d, const hf_plan *plan, const hf_plan_batch_row *row) {
    const char *mark = row->batches == plan->setup.batches ? "*" : "";
    return or_dash(
        row->least == row->most
            ? hf_arena_format(d->arena, "%zu × %zu%s", row->batches, row->least, mark)
            : hf_arena_format(d->arena, "%zu × %zu or %zu%s", row->batches, row->least, row->most, mark));
}

static const char *cell_text(hf_document *d, const hf_plan *plan, const hf_plan_batch_row *row, size_t at) {
    const char *bound = hf_show_text(d, HF_AS_ROUGH, row->bound[at]),
               *right =
                   row->batches == 1 ? hf_show_text(d, HF_AS_SHARE_KEPT_ROUGH, row->gain[at].right) : NULL;
    if (right) return or_dash(hf_arena_format(d->arena, "(%s) %s", bound, right));
    if (isnan(plan->setup.required)) return bound;
    return or_dash(hf_arena_format(d->arena, "%s, %s", bound,
                                   hf_show_text(d, HF_AS_CHANCE_ROUGH, row->gain[at].reached)));
}

static const hf_plan_batch_row *planned_row(const hf_plan *plan) {
    for (size_t i = 0; i < plan->batches.count; i++)
        if (plan->batches.rows[i].batches == plan->setup.batches) return &plan->batches.rows[i];
    return NULL;
}

void hf_plan_say_spread(hf_document *d, const hf_plan *plan) {
    enum { THREE_TENTHS = 1 };
    const hf_plan_batch_row *row = planned_row(plan);
    if (!row) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Spread over %zu batches the bound to expect is another: near %s where three tenths of "
                     "the variance lies between "
                     "batches%s%s. More on that below.",
                     row->batches, hf_show_text(d, HF_AS_ROUGH, row->bound[THREE_TENTHS]),
                     isnan(plan->setup.required) ? "" : ", and the required one is reached with a chance of ",
                     isnan(plan->setup.required)
                         ? ""
                         : hf_show_text(d, HF_AS_CHANCE_ROUGH, row->gain[THREE_TENTHS].reached));
}

void hf_plan_say_batches(hf_document *d, const hf_plan *plan) {
    static const char *const header[] = {"batches", ">a tenth", ">three tenths", ">half", NULL};
    const hf_plan_batches *batches = &plan->batches;
    if (!batches->rows) return;
    hf_document_addf(d, HF_BLOCK_HEADING, "%zu parts over %zu batches", batches->parts, plan->setup.batches);
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "Parts of a batch are alike in what their batch brings. The figures above are for parts "
        "between which no batch makes a difference; here is the bound to expect where a tenth, three "
        "tenths, half of the variance lies between batches.");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < batches->count; i++) {
        const hf_plan_batch_row *row = &batches->rows[i];
        const char *cells[] = {layout_text(d, plan, row), cell_text(d, plan, row, 0),
                               cell_text(d, plan, row, 1), cell_text(d, plan, row, 2), NULL};
        hf_document_row(d, table, cells);
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "* as planned. Half of such tests end above, half below%s. With two batches or more the lower of "
        "the bound from their means and the one that ignores them counts, so that it holds for "
        "parts of the next batch too. In brackets the bound of one batch, and how often it is "
        "right for parts of the next: %s are promised. %zu simulated tests each, seed %llu, exact "
        "readings.",
        isnan(plan->setup.required) ? "" : "; behind it the chance that the required bound is reached",
        hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.confidence), batches->samples,
        (unsigned long long)plan->setup.seed);
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "A batch is what is made in one go: a roll, a delivery, a day, a hand. More batches bring more than "
        "more "
        "parts of each. With --write each planned part gets its batch, \"batch 1\" and so on, and the "
        "pulling order mixes them; take the parts accordingly, or say with record --batch what "
        "a part really was.");
}

/* --- JSON -------------------------------------------------------------------------------------------- */

static const hf_plan_batch_row *row_around(const hf_place *p) {
    return p->outer->item;
}

static hf_found share_of(const hf_place *p) {
    return hf_found_number(hf_plan_batch_shares[p->at], NULL);
}

static hf_found bound_of(const hf_place *p) {
    return hf_found_number(row_around(p)->bound[p->at], NULL);
}

static hf_found low_of(const hf_place *p) {
    return hf_found_number(row_around(p)->low[p->at], NULL);
}

static const void *next_gain(const hf_place *p, size_t at) {
    return at < HF_PLAN_BATCH_SHARES ? &((const hf_plan_batch_row *)p->item)->gain[at] : NULL;
}

static const void *next_row(const hf_place *p, size_t at) {
    const hf_plan_batches *batches = p->item;
    return at < batches->count ? &batches->rows[at] : NULL;
}

#define OF hf_batch_gain
static const hf_field gain_fields[] = {HF_FOUND(NUMBER, "between_share", share_of),
                                       HF_FOUND(LOAD, "bound", bound_of),
                                       HF_FOUND(LOAD, "low", low_of),
                                       HF_MEMBER(NUMBER, "margin", middle),
                                       HF_MEMBER(NUMBER, "right", right),
                                       HF_MEMBER(NUMBER, "right_standard_error", right_error),
                                       HF_MAYBE(NUMBER, "assurance", reached, "not_stated"),
                                       HF_FIELDS_END};
#undef OF
static const hf_record gain_record = {.name = "batch_gain", .fields = gain_fields};

#define OF hf_plan_batch_row
static const hf_field row_fields[] = {
    HF_MEMBER(COUNT, "batches", batches), HF_MEMBER(COUNT, "least_parts", least),
    HF_MEMBER(COUNT, "most_parts", most), HF_LIST("shares", next_gain, &gain_record), HF_FIELDS_END};
#undef OF
static const hf_record row_record = {.name = "batch_row", .fields = row_fields};

#define OF hf_plan_batches
static const hf_field fields[] = {HF_MEMBER(COUNT, "parts", parts), HF_MEMBER(COUNT, "samples", samples),
                                  HF_LIST("rows", next_row, &row_record), HF_FIELDS_END};
#undef OF
const hf_record hf_json_plan_batches = {.name = "plan_batches", .fields = fields};
