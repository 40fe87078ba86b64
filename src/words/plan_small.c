/* What more pulls bring, a planned comparison, a planned proof, one cell of true confidence. */
#include <math.h>
#include "words/json_fields.h"
#include "words/assess_words.h"
#include "words/plan_report.h"
#include "words/words.h"

/* The rows take each part for itself. */
static void say_batches(hf_document *d, const hf_plan_next *p) {
    if (p->batch_bound < p->next.now)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "That takes each part for itself, as all figures here do. With its %zu batches counted the "
            "bound is %s now, and that is the one to use: parts of new batches raise it more "
            "than parts of these (plan --batches).",
            p->batches, hf_show_text(d, HF_AS_ROUGH, p->batch_bound));
}

/* Parts that did not break count; what would show how strong they are is more weight. */
static void say_borrowed(hf_document *d, const hf_plan_next *p) {
    const hf_plan_borrow *borrow = &p->borrow;
    if (!p->whole) return;
    const char *with =
        borrow->kind
            ? hf_arena_format(d->arena, " With %zu more of %s %s and %zu more parts expect a bound near %s.",
                              borrow->pieces, hf_show_text(d, HF_AS_GIVEN, borrow->kind->value),
                              borrow->kind->unit->name, borrow->parts,
                              hf_show_text(d, HF_AS_ROUGH, borrow->expected))
            : "";
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%zu did not break.%s Do not leave the unbroken out: they count as at least as strong as what "
        "they held.",
        p->whole, with ? with : "");
}

static void next_document(const void *result, hf_document *d) {
    const hf_plan_next *p = result;
    static const char *const header[] = {
        "more parts", ">in all", ">expected bound", ">10 % below", ">10 % above", ">chance", NULL};
    const hf_next_row *last = &p->next.rows[p->next.count - 1], *enough = NULL;
    for (size_t i = p->next.count; i-- > 0;)
        if (p->next.rows[i].chance >= 0.80) enough = &p->next.rows[i];
    hf_document_addf(d, HF_BLOCK_TITLE, "What more pulls would bring: %s", p->design->name);
    if (isnan(p->required))
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "The bound is %s now; %zu more part%s would be expected to bring it to %s.",
                         hf_show_text(d, HF_AS_ROUGH, p->next.now), last->more, last->more == 1 ? "" : "s",
                         hf_show_text(d, HF_AS_ROUGH, last->expected));
    else if (p->next.now >= p->calibration.needed && p->batch_bound < p->calibration.needed)
        hf_document_addf(
            d, HF_BLOCK_ANSWER,
            "With its batches counted the bound is %s now, short of the required %s; parts of new "
            "batches can raise it.",
            hf_show_text(d, HF_AS_ROUGH, p->batch_bound), hf_show_text(d, HF_AS_ROUGH, p->required));
    else if (p->next.now >= p->calibration.needed)
        hf_document_addf(d, HF_BLOCK_ANSWER, "The bound is %s now and reaches the required %s already.",
                         hf_show_text(d, HF_AS_ROUGH, p->next.now),
                         hf_show_text(d, HF_AS_ROUGH, p->required));
    else if (enough)
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "%zu more part%s the required %s within reach (chance 80 %% or more).", enough->more,
                         enough->more == 1 ? " brings" : "s bring",
                         hf_show_text(d, HF_AS_ROUGH, p->required));
    else
        hf_document_addf(
            d, HF_BLOCK_ANSWER, "Not even %zu more part%s the required %s within reach (chance below 80 %%).",
            last->more, last->more == 1 ? " brings" : "s bring", hf_show_text(d, HF_AS_ROUGH, p->required));
    if (!isnan(p->required) && p->next.now < p->calibration.needed)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The bound is %s now.",
                         hf_show_text(d, HF_AS_ROUGH, p->next.now));
    say_batches(d, p);
    say_borrowed(d, p);
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < p->next.count; i++) {
        const hf_next_row *r = &p->next.rows[i];
        const char *more = hf_arena_format(d->arena, "%zu", r->more),
                   *n = hf_arena_format(d->arena, "%zu", r->n);
        const char *cells[] = {more ? more : "?",
                               n ? n : "?",
                               hf_show_text(d, HF_AS_ROUGH, r->expected),
                               hf_show_text(d, HF_AS_ROUGH, r->low),
                               hf_show_text(d, HF_AS_ROUGH, r->high),
                               isnan(r->chance) ? "-" : hf_show_text(d, HF_AS_CHANCE_ROUGH, r->chance),
                               NULL};
        hf_document_row(d, table, cells);
    }
    if (!isnan(p->calibration.u))
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "Bounds are before the rig's stated errors (u = %s there) are taken off; %s then leaves %s.",
            hf_show_text(d, HF_AS_SHARE_ROUGH, p->calibration.u),
            hf_show_text(d, HF_AS_MEAN, p->calibration.at),
            hf_show_text(d, HF_AS_MEAN, p->calibration.at * p->calibration.multiplier));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%zu simulated futures a row, seed %llu.%s%s%s",
                     p->next.replicates, (unsigned long long)p->seed,
                     isnan(p->required) ? "" : " Standard error of the last chance: ",
                     isnan(p->required) ? "" : hf_show_text(d, HF_AS_SHARE_ROUGH, last->chance_error),
                     isnan(p->required) ? "" : ".");
    if (p->looks.plan.given)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "Looks are stated %s; bounds are taken at %s confidence, so that all looks together keep "
            "%s.",
            hf_look_plan_text(d, &p->looks.plan), hf_show_text(d, HF_AS_CONFIDENCE, p->looks.used),
            hf_show_text(d, HF_AS_SHARE_STATED, p->confidence));
    else
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "You are looking before the test is over. If you go on because of what you see here, say "
            "so in the report: a look more than planned weakens the confidence.");
}

static const hf_plan_next *next_of(const hf_place *p) {
    return p->item;
}

static hf_found next_file(const hf_place *p) {
    return hf_found_item(next_of(p)->campaign);
}

static hf_found next_seed(const hf_place *p) {
    return hf_found_count((size_t)next_of(p)->seed);
}

static hf_found next_design(const hf_place *p) {
    return hf_found_text(next_of(p)->design->id, NULL);
}

static bool has_batches(const hf_place *p) {
    return next_of(p)->batches > 0;
}

static const void *next_sample(const hf_place *p, size_t at) {
    return at < next_of(p)->next.count ? &next_of(p)->next.rows[at] : NULL;
}

#define OF hf_next_row
static const hf_field next_row_fields[] = {HF_MEMBER(COUNT, "more", more),
                                           HF_MEMBER(COUNT, "n", n),
                                           HF_MAYBE(LOAD, "expected_bound", expected, "no_bound"),
                                           HF_MAYBE(LOAD, "low", low, "no_bound"),
                                           HF_MAYBE(LOAD, "high", high, "no_bound"),
                                           HF_MAYBE(NUMBER, "chance", chance, "not_stated"),
                                           HF_FIELDS_END};
#undef OF
static const hf_record next_row_record = {.name = "larger_sample", .fields = next_row_fields};

static bool borrows(const hf_place *p) {
    return ((const hf_plan_next *)p->item)->borrow.kind != NULL;
}

static hf_found borrowed_weight(const hf_place *p) {
    return hf_found_number(((const hf_plan_borrow *)p->item)->kind->newtons, NULL);
}

#define OF hf_plan_borrow
static const hf_field borrow_fields[] = {
    HF_MEMBER(COUNT, "pieces", pieces), HF_FOUND_OR(LOAD, "weight", borrowed_weight, NULL),
    HF_MEMBER(COUNT, "more", parts), HF_MAYBE(LOAD, "expected_bound", expected, "no_bound"), HF_FIELDS_END};
#undef OF
static const hf_record borrow_record = {.name = "borrowed_later", .fields = borrow_fields};

#define OF hf_plan_next
static const hf_field next_fields[] = {
    HF_FILE(next_file),
    HF_FOUND(COUNT, "seed", next_seed),
    HF_FOUND(TEXT, "design", next_design),
    HF_MAYBE(LOAD, "now", next.now, "no_bound"),
    HF_MAYBE(LOAD, "required", required, "not_stated"),
    HF_OBJECT("calibration", calibration, &hf_json_calibration),
    HF_MEMBER(COUNT, "replicates", next.replicates),
    {.key = "batches", .kind = HF_FIELD_COUNT, HF_AT(batches), .given = has_batches},
    {.key = "batch_bound", .kind = HF_FIELD_LOAD, HF_AT(batch_bound), .given = has_batches},
    HF_MEMBER(COUNT, "not_broken", whole),
    {.key = "borrow", .kind = HF_FIELD_OBJECT, HF_AT(borrow), .record = &borrow_record, .given = borrows},
    HF_LIST("samples", next_sample, &next_row_record),
    HF_FIELDS_END};
#undef OF
static const hf_record next_record = {.name = "plan-next", .fields = next_fields};

static void say_relabeling(hf_document *d, const hf_plan_contrast *p) {
    if (p->n_permutation)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The relabeling test, which leans on no bell shape, needs %zu of each.",
                         p->n_permutation);
    else
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "The relabeling test does not reach that power with a sensible number of parts.");
}

/* The textbook takes the scatter as equal and its degrees of freedom as known; the test that judges the pulls does not. */
static void say_theory(hf_document *d, const hf_plan_contrast *p) {
    size_t theory = (size_t)ceil(p->n_noncentral_t - 1e-9);
    if (theory < p->n)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The textbook's noncentral t says %zu. It takes for granted that both designs scatter alike; "
            "the verdict does not, and pays for that with a part.",
            theory);
}

static void contrast_document(const void *result, hf_document *d) {
    const hf_plan_contrast *p = result;
    const char *side = p->one_sided ? "one-sided" : "two-sided";
    hf_document_add(d, HF_BLOCK_TITLE, "Comparing two designs");
    hf_document_addf(d, HF_BLOCK_ANSWER, "Pull %zu parts of each design.", p->n);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Then a true difference of %s%s (%s standard deviations of the logarithm) is noticed "
                     "with a chance of %s, at a %s level of %s.",
                     p->by_ratio ? "ratio " : "", p->by_ratio ? hf_ratio_text(d, p->ratio) : "this size",
                     hf_show_text(d, HF_AS_NUMBER, p->effect), hf_show_text(d, HF_AS_SHARE_STATED, p->power),
                     side, hf_show_text(d, HF_AS_SHARE, p->level));
    say_theory(d, p);
    say_relabeling(d, p);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu of each can see %s standard deviations%s%s, no less; the chance to notice the "
                     "stated difference is then %s.",
                     p->visible_at, hf_show_text(d, HF_AS_NUMBER, p->smallest_effect),
                     isnan(p->smallest_ratio) ? "" : ", a ratio of ",
                     isnan(p->smallest_ratio) ? "" : hf_ratio_text(d, p->smallest_ratio),
                     hf_show_text(d, HF_AS_SHARE_KEPT, p->power_at_n));
    if (p->step_sd > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Steps of %s standard deviations are counted in: they blur each pull.",
                         hf_show_text(d, HF_AS_NUMBER, p->step_sd));
    else
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "That is for loads read from a scale. Steps up to half a standard deviation cost little; for "
            "wider ones say how wide (--step-sd).");
    hf_document_add(d, HF_BLOCK_PARAGRAPH, "Pull the designs in mixed order, on one ladder, on one rig.");
}

static hf_found contrast_seed(const hf_place *p) {
    return hf_found_count((size_t)((const hf_plan_contrast *)p->item)->seed);
}

static hf_found contrast_permutation(const hf_place *p) {
    size_t n = ((const hf_plan_contrast *)p->item)->n_permutation;
    return hf_found_number(n ? (double)n : NAN, NULL);
}

#define OF hf_plan_contrast
static const hf_field contrast_fields[] = {
    HF_FOUND(COUNT, "seed", contrast_seed),
    HF_MEMBER(COUNT, "n", n),
    HF_MEMBER(NUMBER, "n_noncentral_t", n_noncentral_t),
    HF_FOUND_OR(NUMBER, "n_permutation", contrast_permutation, "not_reached"),
    HF_MEMBER(COUNT, "visible_at", visible_at),
    HF_MAYBE(NUMBER, "smallest_visible_ratio", smallest_ratio, "no_scatter_stated"),
    HF_MAYBE(NUMBER, "smallest_visible_effect", smallest_effect, "numeric"),
    HF_MAYBE(NUMBER, "power_at_n", power_at_n, "numeric"),
    HF_MEMBER(NUMBER, "effect", effect),
    HF_MEMBER(NUMBER, "step_sd", step_sd),
    HF_MEMBER(NUMBER, "power", power),
    HF_MEMBER(NUMBER, "level", level),
    HF_MEMBER(BOOL, "one_sided", one_sided),
    HF_FIELDS_END};
#undef OF
static const hf_record contrast_record = {.name = "plan-contrast", .fields = contrast_fields};

/* What must hang, and from which weights. */
static void add_proof_ladder(hf_document *d, const hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    const hf_plan_calibration *c = &plan->calibration;
    const char *header[] = {"rung", ">force on part", ">hang", "weights", NULL};
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Of %s, to show %s%s.", s->design,
                     hf_show_text(d, HF_AS_STATED, s->required),
                     s->by_service ? ": the service load times the factors of the file" : "");
    if (isnan(c->u))
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "Errors of the rig are not stated, so nothing is taken off for them here.");
    else
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The rig's stated errors (u = %s there) are taken off once: for %s after that, %s must be "
            "on the part.",
            hf_show_text(d, HF_AS_SHARE_ROUGH, c->u), hf_show_text(d, HF_AS_STATED, s->required),
            hf_show_text(d, HF_AS_MEAN, c->needed));
    hf_document_add(d, HF_BLOCK_HEADING, "What to hang on each");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < plan->ladder.count; i++) {
        const hf_ladder_rung *rung = &plan->ladder.rungs[i];
        const char *cells[] = {hf_arena_format(d->arena, "%zu", i + 1),
                               hf_show_text(d, HF_AS_MEAN, rung->force),
                               hf_show_text(d, HF_AS_MEAN, hf_plan_added(plan, rung->force)),
                               hf_weights_text(d->arena, plan, &rung->weights)};
        hf_document_row(d, table, cells);
    }
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%s s on each rung, about %s minutes for %zu part%s. A part that holds the last rung is written "
        "down as held: holdfast record %s PART --held %s --outcome held. One that fails where none may "
        "voids the proof, but not the pulls: write it down with --held and --failed, and assess says what "
        "they "
        "show.",
        hf_show_text(d, HF_AS_GIVEN, s->dwell_s), hf_show_text(d, HF_AS_NUMBER_ROUGH, plan->day.minutes),
        s->parts, s->parts == 1 ? "" : "s", plan->campaign->file,
        hf_show_text(d, HF_AS_MEAN, hf_plan_added(plan, plan->ladder.loads[plan->ladder.count - 1])));
}

static void proof_document(const void *result, hf_document *d) {
    const hf_plan_proof *p = result;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s",
                     p->plan && p->plan->campaign->title[0] ? p->plan->campaign->title : "Proof load");
    hf_document_addf(d, HF_BLOCK_ANSWER, "Load %zu part%s; %s.", p->n, p->n == 1 ? "" : "s",
                     p->failures ? hf_arena_format(d->arena, "no more than %zu may fail", p->failures)
                                 : "none may fail");
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH, "Then at least %s of all parts hold the load, with %s confidence%s.",
        hf_show_text(d, HF_AS_SHARE_STATED, p->content), hf_show_text(d, HF_AS_SHARE_STATED, p->confidence),
        p->overload > 1 ? ", provided each was loaded to the stated multiple of it" : "");
    if (p->overload > 1)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Overload %s with Weibull shape %s: the shape must be the low end of what is "
                         "plausible, and one failure voids the proof.",
                         hf_show_text(d, HF_AS_GIVEN, p->overload), hf_show_text(d, HF_AS_GIVEN, p->shape));
    if (p->given_n)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "%zu part%s %s prove%s that at least %s of all parts hold the load, with the same confidence.",
            p->given_n, p->given_n == 1 ? "" : "s",
            p->failures ? "with no more failures than that" : "that all pass", p->given_n == 1 ? "s" : "",
            hf_show_text(d, HF_AS_SHARE_PROVEN, p->proven_content));
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Chance to pass when the share of weaker parts is really half of what is allowed: %s; a tenth: %s.",
        hf_show_text(d, HF_AS_SHARE, p->chance_half), hf_show_text(d, HF_AS_SHARE, p->chance_tenth));
    if (p->plan) add_proof_ladder(d, p->plan);
    hf_rig_safety(d);
    hf_limits(d);
}

static bool in_a_file(const hf_place *p) {
    return ((const hf_plan_proof *)p->item)->plan != NULL;
}

static hf_found planned_proof(const hf_place *p) {
    return hf_found_item(((const hf_plan_proof *)p->item)->plan);
}

#define OF hf_plan_proof
static const hf_field proof_fields[] = {
    HF_MEMBER(COUNT, "n", n),
    HF_MEMBER(NUMBER, "content", content),
    HF_MEMBER(NUMBER, "confidence", confidence),
    HF_MEMBER(COUNT, "failures", failures),
    HF_MEMBER(NUMBER, "overload", overload),
    HF_MAYBE(NUMBER, "proven_content", proven_content, "numeric"),
    HF_MAYBE(NUMBER, "chance_to_pass_half", chance_half, "numeric"),
    HF_MAYBE(NUMBER, "chance_to_pass_tenth", chance_tenth, "numeric"),
    {.kind = HF_FIELD_INLINE, .find = planned_proof, .record = &hf_json_proof_plan, .given = in_a_file},
    HF_FIELDS_END};
#undef OF
static const hf_record proof_record = {.name = "plan-proof", .fields = proof_fields};

static void coverage_document(const void *result, hf_document *d) {
    const hf_coverage_result *r = result;
    hf_document_add(d, HF_BLOCK_TITLE, "True confidence of a bound");
    hf_document_addf(d, HF_BLOCK_ANSWER, "True confidence %s, where %s is promised.",
                     hf_show_text(d, HF_AS_CONFIDENCE, r->coverage.coverage),
                     hf_show_text(d, HF_AS_CONFIDENCE, r->promised));
    if (r->cell.confidence != r->promised)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Each bound is taken at %s confidence.",
                         hf_show_text(d, HF_AS_CONFIDENCE, r->cell.confidence));
    if (r->cell.past_designs)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "The scatter of %zu earlier %s of %zu parts counts; from design to design the scatter "
            "varies by a factor of %s.",
            r->cell.past_designs, r->cell.past_designs == 1 ? "design" : "designs", r->cell.past_parts,
            hf_show_text(d, HF_AS_NUMBER, exp(r->cell.past_apart)));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Standard error %s, %zu simulated samples of %zu parts, method %s, seed %llu.",
                     hf_show_text(d, HF_AS_SHARE_ROUGH, r->coverage.standard_error), r->coverage.replicates,
                     r->cell.n, r->cell.method->label, (unsigned long long)r->cell.seed);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s of the samples got a bound.",
                     hf_show_text(d, HF_AS_CONFIDENCE, r->coverage.bound_share));
}

static const hf_coverage_cell *cell_of(const hf_place *p) {
    return &((const hf_coverage_result *)p->item)->cell;
}

static hf_found coverage_seed(const hf_place *p) {
    return hf_found_count((size_t)cell_of(p)->seed);
}

static hf_found coverage_method(const hf_place *p) {
    return hf_found_text(cell_of(p)->method->name, NULL);
}

static hf_found coverage_ladder(const hf_place *p) {
    return hf_found_text(hf_coverage_ladder_name(cell_of(p)->ladder), NULL);
}

static bool is_shard(const hf_place *p) {
    return ((const hf_coverage_result *)p->item)->shards > 1;
}

static hf_found count_of(uint64_t count) {
    return hf_found_number((double)count, NULL);
}

static const hf_coverage_counts *counts_of(const hf_place *p) {
    return &((const hf_coverage_result *)p->item)->counts;
}

static hf_found count_replicates(const hf_place *p) {
    return count_of(counts_of(p)->replicates);
}

static hf_found count_given(const hf_place *p) {
    return count_of(counts_of(p)->given);
}

static hf_found count_right(const hf_place *p) {
    return count_of(counts_of(p)->right);
}

static hf_found count_open(const hf_place *p) {
    return count_of(counts_of(p)->open);
}

static hf_found count_margin(const hf_place *p) {
    return hf_found_number((double)counts_of(p)->margin, NULL);
}

/* Whole numbers far below 2⁵³. */
static const hf_field counts_fields[] = {
    HF_FOUND(NUMBER, "replicates", count_replicates), HF_FOUND(NUMBER, "given", count_given),
    HF_FOUND(NUMBER, "right", count_right),           HF_FOUND(NUMBER, "open", count_open),
    HF_FOUND(NUMBER, "margin", count_margin),         HF_FIELDS_END};
static const hf_record counts_record = {.name = "coverage_counts", .fields = counts_fields};

#define OF hf_coverage_result
static const hf_field coverage_fields[] = {
    HF_FOUND(COUNT, "seed", coverage_seed),
    HF_MEMBER(NUMBER, "coverage", coverage.coverage),
    HF_MEMBER(NUMBER, "standard_error", coverage.standard_error),
    HF_MEMBER(COUNT, "replicates", coverage.replicates),
    HF_FOUND(TEXT, "method", coverage_method),
    HF_FOUND(TEXT, "ladder", coverage_ladder),
    HF_MEMBER(COUNT, "n", cell.n),
    HF_MEMBER(NUMBER, "content", cell.content),
    HF_MEMBER(NUMBER, "confidence", promised),
    HF_MEMBER(NUMBER, "confidence_used", cell.confidence),
    HF_MAYBE(NUMBER, "bound_share", coverage.bound_share, "none"),
    HF_MAYBE(NUMBER, "coverage_given_bound", coverage.given_bound, "no_bound"),
    HF_MAYBE(NUMBER, "open_share", coverage.open_share, "none"),
    HF_MEMBER(TEXT, "setting", setting),
    {.key = "shard", .kind = HF_FIELD_COUNT, HF_AT(shard), .given = is_shard},
    {.key = "shards", .kind = HF_FIELD_COUNT, HF_AT(shards), .given = is_shard},
    HF_PART("counts", &counts_record),
    HF_FIELDS_END};
#undef OF
static const hf_record coverage_record = {.name = "coverage", .fields = coverage_fields};

const hf_report_kind hf_report_plan_next = {"plan-next", next_document, &next_record};
const hf_report_kind hf_report_plan_contrast = {"plan-contrast", contrast_document, &contrast_record};
const hf_report_kind hf_report_plan_proof = {"plan-proof", proof_document, &proof_record};
const hf_report_kind hf_report_coverage = {"coverage", coverage_document, &coverage_record};
