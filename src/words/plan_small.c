/* What more pulls bring, a planned comparison, a planned proof, one cell of true confidence. */
#include <math.h>
#include "words/plan_report.h"

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
                         hf_load_text(d, p->next.now, 3), last->more, last->more == 1 ? "" : "s",
                         hf_load_text(d, last->expected, 3));
    else if (p->next.now >= p->calibration.needed)
        hf_document_addf(d, HF_BLOCK_ANSWER, "The bound is %s now and reaches the required %s already.",
                         hf_load_text(d, p->next.now, 3), hf_load_text(d, p->required, 3));
    else if (enough)
        hf_document_addf(d, HF_BLOCK_ANSWER,
                         "%zu more part%s the required %s within reach (chance 80 %% or more).", enough->more,
                         enough->more == 1 ? " brings" : "s bring", hf_load_text(d, p->required, 3));
    else
        hf_document_addf(
            d, HF_BLOCK_ANSWER, "Not even %zu more part%s the required %s within reach (chance below 80 %%).",
            last->more, last->more == 1 ? " brings" : "s bring", hf_load_text(d, p->required, 3));
    if (!isnan(p->required) && p->next.now < p->calibration.needed)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The bound is %s now.", hf_load_text(d, p->next.now, 3));
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < p->next.count; i++) {
        const hf_next_row *r = &p->next.rows[i];
        const char *more = hf_arena_format(d->arena, "%zu", r->more),
                   *n = hf_arena_format(d->arena, "%zu", r->n);
        const char *cells[] = {more ? more : "?",
                               n ? n : "?",
                               hf_load_text(d, r->expected, 3),
                               hf_load_text(d, r->low, 3),
                               hf_load_text(d, r->high, 3),
                               isnan(r->chance) ? "-" : hf_percent_text(d, r->chance, 2),
                               NULL};
        hf_document_row(d, table, cells);
    }
    if (!isnan(p->calibration.u))
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "Bounds are before the rig's stated errors (u = %s there) are taken off; %s then leaves %s.",
            hf_percent_text(d, p->calibration.u, 2), hf_load_text(d, p->calibration.at, 4),
            hf_load_text(d, p->calibration.at * p->calibration.multiplier, 4));
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH, "%zu simulated futures a row, seed %llu.%s%s%s", p->next.replicates,
        (unsigned long long)p->seed, isnan(p->required) ? "" : " Standard error of the last chance: ",
        isnan(p->required) ? "" : hf_percent_text(d, last->chance_error, 2), isnan(p->required) ? "" : ".");
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    "You are looking before the test is over. If you go on because of what you see here, say "
                    "so in the report: a look more than planned weakens the confidence.");
}

static void next_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_plan_next *p = result;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "plan-next", p->campaign, style, out);
    hf_json_add_count(&w->json, "seed", (size_t)p->seed);
    hf_json_add_text(&w->json, "design", p->design->id);
    hf_result_load(w, "now", p->next.now, "no_bound");
    hf_plan_calibration_json(w, p->required, &p->calibration);
    hf_json_add_count(&w->json, "replicates", p->next.replicates);
    hf_json_open_array(&w->json, "samples");
    for (size_t i = 0; i < p->next.count; i++) {
        const hf_next_row *r = &p->next.rows[i];
        hf_result_open(w, NULL);
        hf_json_add_count(&w->json, "more", r->more);
        hf_json_add_count(&w->json, "n", r->n);
        hf_result_load(w, "expected_bound", r->expected, "no_bound");
        hf_result_load(w, "low", r->low, "no_bound");
        hf_result_load(w, "high", r->high, "no_bound");
        hf_result_value(w, "chance", r->chance, "not_stated");
        hf_result_close(w);
    }
    hf_json_close(&w->json, true);
    hf_result_close(w);
}

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
                     p->by_ratio ? "ratio " : "", p->by_ratio ? hf_figures_text(d, p->ratio, 3) : "this size",
                     hf_figures_text(d, p->effect, 3), hf_percent_text(d, p->power, 6), side,
                     hf_percent_text(d, p->level, 3));
    say_theory(d, p);
    say_relabeling(d, p);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "%zu of each can see %s standard deviations%s%s, no less; the chance to notice the "
                     "stated difference is then %s.",
                     p->visible_at, hf_figures_text(d, p->smallest_effect, 3),
                     isnan(p->smallest_ratio) ? "" : ", a ratio of ",
                     isnan(p->smallest_ratio) ? "" : hf_figures_text(d, p->smallest_ratio, 3),
                     hf_percent_down(d, p->power_at_n, 3));
    if (p->step_sd > 0)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Steps of %s standard deviations are counted in: they blur each pull.",
                         hf_figures_text(d, p->step_sd, 3));
    else
        hf_document_add(
            d, HF_BLOCK_PARAGRAPH,
            "That is for loads read from a scale. Steps up to half a standard deviation cost little; for "
            "wider ones say how wide (--step-sd).");
    hf_document_add(d, HF_BLOCK_PARAGRAPH, "Pull the designs in mixed order, on one ladder, on one rig.");
}

static void contrast_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_plan_contrast *p = result;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "plan-contrast", NULL, style, out);
    hf_json_add_count(&w->json, "seed", (size_t)p->seed);
    hf_json_add_count(&w->json, "n", p->n);
    hf_json_add_number(&w->json, "n_noncentral_t", p->n_noncentral_t);
    if (p->n_permutation)
        hf_json_add_count(&w->json, "n_permutation", p->n_permutation);
    else
        hf_result_value(w, "n_permutation", NAN, "not_reached");
    hf_json_add_count(&w->json, "visible_at", p->visible_at);
    hf_result_value(w, "smallest_visible_ratio", p->smallest_ratio, "no_scatter_stated");
    hf_result_value(w, "smallest_visible_effect", p->smallest_effect, "numeric");
    hf_result_value(w, "power_at_n", p->power_at_n, "numeric");
    hf_json_add_number(&w->json, "effect", p->effect);
    hf_json_add_number(&w->json, "step_sd", p->step_sd);
    hf_json_add_number(&w->json, "power", p->power);
    hf_json_add_number(&w->json, "level", p->level);
    hf_json_add_bool(&w->json, "one_sided", p->one_sided);
    hf_result_close(w);
}

static void proof_document(const void *result, hf_document *d) {
    const hf_plan_proof *p = result;
    hf_document_add(d, HF_BLOCK_TITLE, "Proof load");
    hf_document_addf(d, HF_BLOCK_ANSWER, "Load %zu part%s; %s.", p->n, p->n == 1 ? "" : "s",
                     p->failures ? hf_arena_format(d->arena, "no more than %zu may fail", p->failures)
                                 : "none may fail");
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Then at least %s of all parts hold the load, with %s confidence%s.",
                     hf_percent_text(d, p->content, 5), hf_percent_text(d, p->confidence, 5),
                     p->overload > 1 ? ", provided each was loaded to the stated multiple of it" : "");
    if (p->overload > 1)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "Overload %s with Weibull shape %s: the shape must be the low end of what is "
                         "plausible, and one failure voids the proof.",
                         hf_shortest_text(d, p->overload), hf_shortest_text(d, p->shape));
    if (p->given_n)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "%zu part%s %s prove%s that at least %s of all parts hold the load, with the same confidence.",
            p->given_n, p->given_n == 1 ? "" : "s",
            p->failures ? "with no more failures than that" : "that all pass", p->given_n == 1 ? "s" : "",
            hf_percent_down(d, p->proven_content, 4));
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "Chance to pass when the share of weaker parts is really half of what is allowed: %s; a tenth: %s.",
        hf_percent_text(d, p->chance_half, 3), hf_percent_text(d, p->chance_tenth, 3));
    hf_rig_safety(d);
    hf_limits(d);
}

static void proof_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_plan_proof *p = result;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "plan-proof", NULL, style, out);
    hf_json_add_count(&w->json, "n", p->n);
    hf_json_add_number(&w->json, "content", p->content);
    hf_json_add_number(&w->json, "confidence", p->confidence);
    hf_json_add_count(&w->json, "failures", p->failures);
    hf_json_add_number(&w->json, "overload", p->overload);
    hf_result_value(w, "proven_content", p->proven_content, "numeric");
    hf_result_value(w, "chance_to_pass_half", p->chance_half, "numeric");
    hf_result_value(w, "chance_to_pass_tenth", p->chance_tenth, "numeric");
    hf_result_close(w);
}

static void coverage_document(const void *result, hf_document *d) {
    const hf_coverage_result *r = result;
    hf_document_add(d, HF_BLOCK_TITLE, "True confidence of a bound");
    hf_document_addf(d, HF_BLOCK_ANSWER, "True confidence %s, where %s is promised.",
                     hf_percent_text(d, r->coverage.coverage, 4), hf_percent_text(d, r->cell.confidence, 4));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Standard error %s, %zu simulated samples of %zu parts, method %s, seed %llu.",
                     hf_percent_text(d, r->coverage.standard_error, 2), r->coverage.replicates, r->cell.n,
                     r->cell.method->label, (unsigned long long)r->cell.seed);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s of the samples got a bound.",
                     hf_percent_text(d, r->coverage.bound_share, 4));
}

static void coverage_json(const void *result, const hf_report_style *style, hf_text *out) {
    const hf_coverage_result *r = result;
    hf_result_writer writer, *w = &writer;
    hf_result_start(w, "coverage", NULL, style, out);
    hf_json_add_count(&w->json, "seed", (size_t)r->cell.seed);
    hf_json_add_number(&w->json, "coverage", r->coverage.coverage);
    hf_json_add_number(&w->json, "standard_error", r->coverage.standard_error);
    hf_json_add_count(&w->json, "replicates", r->coverage.replicates);
    hf_json_add_text(&w->json, "method", r->cell.method->name);
    hf_json_add_text(&w->json, "ladder", hf_coverage_ladder_name(r->cell.ladder));
    hf_json_add_count(&w->json, "n", r->cell.n);
    hf_json_add_number(&w->json, "content", r->cell.content);
    hf_json_add_number(&w->json, "confidence", r->cell.confidence);
    hf_result_value(w, "bound_share", r->coverage.bound_share, "none");
    hf_result_value(w, "coverage_given_bound", r->coverage.given_bound, "no_bound");
    hf_result_value(w, "open_share", r->coverage.open_share, "none");
    hf_result_close(w);
}

const hf_report_kind hf_report_plan_next = {"plan-next", next_document, next_json};
const hf_report_kind hf_report_plan_contrast = {"plan-contrast", contrast_document, contrast_json};
const hf_report_kind hf_report_plan_proof = {"plan-proof", proof_document, proof_json};
const hf_report_kind hf_report_coverage = {"coverage", coverage_document, coverage_json};
