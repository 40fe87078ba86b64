/* The plan in reading order: how many, what fewer cost, the ladder, the price of the step, other scatters. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "words/json_fields.h"
#include "words/plan_report.h"
#include "words/words.h"

/* Whether the first rung is the least that hangs at all, or only the step that was asked for. */
static const char *first_rung_words(const hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    double least = INFINITY, hung = 0;
    for (size_t i = 0; i < s->weight_count; i++) {
        least = fmin(least, s->weights[i].newtons);
        hung += plan->ladder.rungs[0].weights.count[i] * s->weights[i].newtons;
    }
    return s->weight_count && hung <= least * (1 + 1e-9)
               ? "the lightest load these weights make is above the strength of most parts; borrow lighter "
                 "weights"
               : "the first rung is above the strength of most parts; take a smaller step";
}

static const char *reason_words(const hf_plan *plan, const hf_how_many *parts) {
    switch (parts->reason) {
    case HF_PARTS_ASSURED:
        return "the fewest that reach the required bound with the wanted assurance";
    case HF_PARTS_NOT_ASSURED:
        return "no number in the table reaches the required bound with the wanted assurance";
    case HF_PARTS_IMPOSSIBLE:
        return "the required bound is above what that share of parts carries, if the guess is true";
    case HF_PARTS_LEVELLED:
        return "from there on one more part lifts the expected bound by less than 1 % of the mean";
    case HF_PARTS_ONLY_ONE:
        return "one part alone is never planned, it cannot show that the stated scatter is wrong; give "
               "--max-n 2 or more";
    case HF_PARTS_NOT_BROKEN:
        return "most of them would outlast the ladder";
    case HF_PARTS_STILL_RISING:
        return "even the last part of the table lifts the bound; more would still help";
    case HF_PARTS_BROKEN_AT_FIRST:
        return first_rung_words(plan);
    case HF_PARTS_NO_BOUND:
        return "more than 5 of 100 such tests would end without any bound; take smaller steps, lighter "
               "weights or more of them";
    }
    return "";
}

/* The pulls the guess was moved to. */
static void add_pilot(hf_document *d, const hf_plan_pilot *pilot) {
    if (pilot->pulls == 1 && pilot->pull.kind == HF_INTERVAL_EXACT)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The mean is that of one pull: %s broke at %s.",
                         pilot->first->id, hf_show_text(d, HF_AS_ROUGH, pilot->pull.lower));
    else if (pilot->pulls == 1)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The mean is that of one pull: %s held %s and failed on the way to %s.",
                         pilot->first->id, hf_show_text(d, HF_AS_ROUGH, pilot->pull.lower),
                         hf_show_text(d, HF_AS_ROUGH, pilot->pull.upper));
    else if (pilot->pulls)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The mean is that of the %zu parts pulled so far.",
                         pilot->pulls);
    if (pilot->pulls)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "With that scatter the true mean lies between %s and %s, nine times in ten%s%s.",
                         hf_show_text(d, HF_AS_ROUGH, pilot->belief.low),
                         hf_show_text(d, HF_AS_ROUGH, pilot->belief.high),
                         isnan(pilot->guessed) ? "" : "; before, the guess was ",
                         isnan(pilot->guessed) ? "" : hf_show_text(d, HF_AS_ROUGH, pilot->guessed));
}

/* Where the guess comes from, when not from the file or a flag alone. */
static void add_guess(hf_document *d, const hf_plan *plan) {
    const hf_plan_setup *s = &plan->setup;
    const hf_plan_pilot *pilot = &plan->pilot;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Guess%s%s%s: mean %s, scatter %s.", s->design ? " for " : "",
                     s->design ? s->design : "", pilot->pulls ? " after the first pulls" : "",
                     hf_show_text(d, HF_AS_ROUGH, s->mean), hf_show_text(d, HF_AS_SHARE, s->cv));
    add_pilot(d, pilot);
    if (plan->cv_source == HF_PLAN_CV_STATED)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "The scatter is the stated one: %s.", s->scatter.source);
    if (pilot->pulls || plan->cv_source == HF_PLAN_CV_ASSUMED)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s about scatter: %s. See half and double of it below.",
                         pilot->pulls == 1   ? "One pull says nothing"
                         : pilot->pulls == 0 ? "No figure is stated"
                                             : "So few pulls say next to nothing",
                         plan->cv_source == HF_PLAN_CV_ASSUMED  ? "15 % is assumed, as for parts made by hand"
                         : plan->cv_source == HF_PLAN_CV_STATED ? "the plan leans on the stated one"
                                                                : "the plan leans on the guessed one");
}

void hf_plan_say_calibration(hf_document *d, const hf_plan *plan) {
    const hf_plan_calibration *c = &plan->calibration;
    const hf_plan_setup *s = &plan->setup;
    if (s->by_service)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Required is %s: the service load times the factors%s.",
                         hf_show_text(d, HF_AS_STATED, s->required), plan->campaign ? " of the file" : "");
    if (isinf(c->needed))
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "The rig's stated errors are too large: no bound is left after them.");
    else if (!isnan(c->u) && !isnan(s->required))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The rig's stated errors (u = %s there) are taken off once: for %s after that, the "
                         "bound of the table must reach %s.",
                         hf_show_text(d, HF_AS_SHARE_ROUGH, c->u), hf_show_text(d, HF_AS_STATED, s->required),
                         hf_show_text(d, HF_AS_MEAN, c->needed));
    else if (!isnan(c->u))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The rig's stated errors (u = %s there) will be taken off once; that leaves %s.",
                         hf_show_text(d, HF_AS_SHARE_ROUGH, c->u),
                         hf_show_text(d, HF_AS_ROUGH, c->at * c->multiplier));
    else if (!isnan(s->required))
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        "Errors of the rig are not stated, so nothing is taken off for them here.");
}

/* Worth a column: at least one of 100 tests of some size ends without a bound. */
static bool some_without(const hf_how_many *parts) {
    double most = parts->one ? parts->one->without_bound : 0;
    for (size_t i = 0; i < parts->count; i++) most = fmax(most, parts->rows[i].without_bound);
    return most >= 0.01;
}

static const char *load_or_none(hf_document *d, double newtons) {
    return isfinite(newtons) ? hf_show_text(d, HF_AS_ROUGH, newtons) : "none";
}

static const char *row_cells(hf_document *d, const hf_plan *plan, const hf_how_many_row *r,
                             const char *cells[10]) {
    size_t chosen = plan->base.parts.recommended, at = 6;
    cells[0] = hf_arena_format(d->arena, "%zu%s%s", r->n, r->n == chosen ? " *" : "",
                               r->n <= plan->base.parts.by_scatter ? " s" : "");
    cells[1] = hf_show_text(d, HF_AS_FACTOR, r->k);
    cells[2] = load_or_none(d, r->expected);
    cells[3] = isnan(r->share) ? "-" : hf_show_text(d, HF_AS_SHARE_ROUGH, r->share);
    cells[4] = load_or_none(d, r->low);
    cells[5] = load_or_none(d, r->high);
    if (!isnan(plan->setup.required)) cells[at++] = hf_show_text(d, HF_AS_CHANCE_ROUGH, r->assurance);
    if (some_without(&plan->base.parts)) cells[at++] = hf_show_text(d, HF_AS_CHANCE_ROUGH, r->without_bound);
    if (!isnan(r->minutes)) cells[at++] = hf_show_text(d, HF_AS_NUMBER, r->minutes);
    cells[at] = NULL;
    return cells[0];
}

/* The bound that the recommended number of parts brings. */
static void add_expectation(hf_document *d, const hf_plan *plan, const hf_how_many_row *row) {
    const char *promise = hf_arena_format(d->arena, "%s of all parts stronger, %s confidence",
                                          hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.content),
                                          hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.confidence));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "Expect a bound near %s (%s of the guessed mean; %s), mostly between %s and %s.%s",
                     hf_show_text(d, HF_AS_ROUGH, row->expected),
                     hf_show_text(d, HF_AS_SHARE_ROUGH, row->share), promise ? promise : "",
                     load_or_none(d, row->low), load_or_none(d, row->high),
                     plan->base.parts.exact ? "" : " The figures are simulated on the ladder below.");
    if (row->expected > row->high || row->expected < row->low)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The expected bound lies outside that range: a few very %s bounds pull the mean "
                         "%s. Go by the range.",
                         row->expected > row->high ? "high" : "low",
                         row->expected > row->high ? "up" : "down");
    if (row->without_bound >= 0.01)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%.0f of 100 such tests end without any bound.",
                         100 * row->without_bound);
}

void hf_plan_say_reach(hf_document *d, const hf_plan *plan) {
    double needed = plan->calibration.needed;
    if (!(needed > plan->reach)) return;
    hf_document_addf(d, HF_BLOCK_ANSWER,
                     "This rig cannot show %s: %s at most %s on a part, so none can be seen to hold more.",
                     hf_show_text(d, HF_AS_STATED, plan->setup.required),
                     plan->reach_by_rating ? "its rating allows" : "all the weights together put",
                     hf_show_text(d, HF_AS_ROUGH, plan->reach));
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "At least %s more on the part is needed: %s.",
                     hf_show_text(d, HF_AS_ROUGH, needed - plan->reach),
                     plan->reach_by_rating ? "a stronger rig"
                                           : "borrow weights or use a lever, within the rig's rating");
}

/* A number that was asked for, whatever is recommended. */
static void add_asked(hf_document *d, const hf_plan *plan, const hf_how_many_row *row) {
    const hf_how_many *parts = &plan->base.parts;
    hf_document_addf(d, HF_BLOCK_ANSWER, "%zu parts, as asked.", row->n);
    if (!isnan(row->assurance))
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "They reach the required %s with a chance of %s.",
                         hf_show_text(d, HF_AS_STATED, plan->setup.required),
                         hf_show_text(d, HF_AS_CHANCE_ROUGH, row->assurance));
    if (isfinite(row->expected)) add_expectation(d, plan, row);
    if (parts->recommended && parts->recommended != row->n)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Recommended are %zu: %s.", parts->recommended,
                         reason_words(plan, parts));
    else if (!parts->recommended)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "No number can be recommended: %s.",
                         reason_words(plan, parts));
}

/* What the scatter of earlier designs is worth, in parts. */
static void add_earlier(hf_document *d, const hf_plan *plan) {
    const hf_plan_earlier *earlier = &plan->earlier;
    if (!earlier->designs) return;
    const char *designs = earlier->designs == 1
                              ? "the earlier design"
                              : hf_arena_format(d->arena, "the %zu earlier designs", earlier->designs);
    if (!earlier->alone)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "With the scatter of %s %zu parts bring more than %zu would alone.", designs,
                         earlier->parts, earlier->most);
    else if (earlier->alone > earlier->parts)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "With the scatter of %s %zu parts bring what %zu bring alone.", designs,
                         earlier->parts, earlier->alone);
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The scatter of %s brings nothing here: %zu parts alone are as good.", designs,
                         earlier->parts);
    hf_document_add(
        d, HF_BLOCK_PARAGRAPH,
        "That they count is settled with this plan: after the pulls the bound with them holds, "
        "whichever of the two would be the better one, unless the pulls contradict their scatter.");
}

static void add_answer(hf_document *d, const hf_plan *plan) {
    const hf_how_many *parts = &plan->base.parts;
    const hf_how_many_row *asked = plan->setup.parts ? hf_plan_row(plan, plan->setup.parts) : NULL;
    hf_plan_say_reach(d, plan);
    if (asked) {
        add_asked(d, plan, asked);
        return;
    }
    if (parts->recommended) {
        size_t apart = plan->day.apart.n > parts->recommended ? plan->day.apart.n : 0;
        const hf_how_many_row *row = hf_plan_row(plan, apart ? apart : parts->recommended);
        if (apart)
            hf_document_addf(d, HF_BLOCK_ANSWER,
                             "Pull %zu parts to tell the designs apart; for the bound alone, %zu: %s.", apart,
                             parts->recommended, reason_words(plan, parts));
        else
            hf_document_addf(d, HF_BLOCK_ANSWER, "Pull %zu parts: %s.", parts->recommended,
                             reason_words(plan, parts));
        if (row) add_expectation(d, plan, row);
        return;
    }
    hf_document_addf(d, HF_BLOCK_ANSWER, "No number of parts can be recommended: %s.",
                     reason_words(plan, parts));
    if (parts->reason != HF_PARTS_NOT_ASSURED && parts->reason != HF_PARTS_IMPOSSIBLE) return;
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "If the guess is true, %s carry %s; ask for less, or make the parts stronger or more even.",
        hf_show_text(d, HF_AS_SHARE_STATED, plan->setup.content),
        hf_show_text(d, HF_AS_ROUGH, parts->true_quantile));
}

/* The rows people look at: all up to 12, then a few, and always those recommended and asked for. */
static bool shown(size_t n, size_t recommended, size_t asked) {
    return n <= 12 || n == 15 || n == 20 || n == 25 || n % 10 == 0 || n == recommended || n == asked;
}

/* The columns, and what they mean. */
static hf_block *start_table(hf_document *d, const hf_plan *plan) {
    const char *header[10] = {"parts", ">k", ">expected", ">of mean", ">10 % below", ">10 % above"};
    size_t at = 6;
    bool without = some_without(&plan->base.parts); /* one column more: shorter heads keep it within 80 */
    if (!isnan(plan->setup.required)) header[at++] = without ? ">assured" : ">assurance";
    if (without) header[at++] = ">none";
    if (plan->stepped) header[at++] = ">minutes";
    return hf_document_table(d, header);
}

static void add_legend(hf_document *d, const hf_plan *plan) {
    const hf_how_many *parts = &plan->base.parts;
    bool without = some_without(parts);
    hf_document_addf(
        d, HF_BLOCK_PARAGRAPH,
        "%sExpected: the mean bound over many such tests%s; one in ten comes out below, one in ten above the "
        "range%s%s.",
        parts->recommended ? "* recommended. " : "", without ? ", over those that end with a bound" : "",
        without ? ", no bound counting as the lowest; none: so many of 100 tests end without any bound" : "",
        isnan(plan->setup.required) ? ""
        : without                   ? "; assured: the chance that the required bound is reached"
                                    : "; assurance: the chance that the required bound is reached");
}

static void add_table(hf_document *d, const hf_plan *plan) {
    const hf_how_many *parts = &plan->base.parts;
    const hf_how_many_row *told = !parts->count        ? parts->one
                                  : parts->recommended ? &parts->rows[parts->recommended - 2]
                                                       : &parts->rows[parts->count - 1];
    hf_document_add(d, HF_BLOCK_HEADING, "What a number of parts brings");
    const char *cells[10];
    hf_block *table = start_table(d, plan);
    if (parts->one && row_cells(d, plan, parts->one, cells)) hf_document_row(d, table, cells);
    for (size_t i = 0; i < parts->count; i++) {
        const hf_how_many_row *r = &parts->rows[i];
        if (shown(r->n, parts->recommended, hf_plan_parts(plan, &plan->day)) && row_cells(d, plan, r, cells))
            hf_document_row(d, table, cells);
    }
    add_legend(d, plan);
    if (parts->by_scatter)
        hf_document_addf(
            d, HF_BLOCK_PARAGRAPH,
            "s: by the stated scatter of %s (%s), as the assessment does unless the pulls contradict it. One "
            "part cannot show that it is wrong; never plan for one alone.",
            hf_show_text(d, HF_AS_SHARE, plan->setup.scatter.cv), plan->setup.scatter.source);
    if (!parts->exact)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "%zu simulated tests a row, seed %llu; standard error of the expected bound %s "
                         "with %zu part%s%s%s%s.",
                         parts->replicates, (unsigned long long)plan->setup.seed,
                         hf_show_text(d, HF_AS_LOAD_ERROR, told->expected_error), told->n,
                         told->n == 1 ? "" : "s", isnan(told->assurance) ? "" : ", of its assurance ",
                         isnan(told->assurance) ? ""
                                                : hf_show_text(d, HF_AS_SHARE_ROUGH, told->assurance_error),
                         parts->open_share > 0.01 ? "; few, because many pulls end open" : "");
}

static void add_scenarios(hf_document *d, const hf_plan *plan) {
    static const char *const header[] = {"scatter", ">parts", ">expected bound", "why", NULL};
    const hf_plan_scenario *rows[] = {&plan->half, &plan->base, &plan->twice};
    hf_document_add(d, HF_BLOCK_HEADING, "If the scatter is half or double the guess");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < 3; i++) {
        const hf_how_many *parts = &rows[i]->parts;
        if (!parts->count) continue;
        const char *n = parts->recommended ? hf_arena_format(d->arena, "%zu", parts->recommended) : "-";
        size_t at = plan->base.parts.recommended ? plan->base.parts.recommended - 2 : parts->count - 1;
        if (parts->recommended) at = parts->recommended - 2;
        bool telling = parts->reason != HF_PARTS_BROKEN_AT_FIRST && parts->reason != HF_PARTS_NOT_BROKEN &&
                       parts->reason != HF_PARTS_NO_BOUND;
        const char *cells[] = {hf_show_text(d, HF_AS_SHARE, rows[i]->cv), n ? n : "-",
                               telling ? load_or_none(d, parts->rows[at].expected) : "-",
                               reason_words(plan, parts), NULL};
        hf_document_row(d, table, cells);
    }
}

static void add_ladder(hf_document *d, const hf_plan *plan) {
    static const char *const header[] = {">rung",    ">force on part", ">hang", ">moved",
                                         ">reached", "weights",        NULL};
    const hf_ladder *ladder = &plan->ladder;
    if (!ladder->count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "The ladder");
    hf_block *table = hf_document_table(d, header);
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_ladder_rung *r = &ladder->rungs[i];
        const char *number = hf_arena_format(d->arena, "%zu", i + 1);
        const char *moved =
            plan->setup.weight_count ? hf_arena_format(d->arena, "%d", r->weights.handling) : "-";
        const char *cells[] = {number ? number : "?",
                               hf_show_text(d, HF_AS_MEAN, r->force),
                               hf_show_text(d, HF_AS_MEAN, hf_plan_added(plan, r->force)),
                               moved ? moved : "-",
                               isnan(r->reached) ? "-" : hf_show_text(d, HF_AS_CHANCE, r->reached),
                               hf_weights_text(d->arena, plan, &r->weights),
                               NULL};
        hf_document_row(d, table, cells);
    }
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    "Moved: pieces put on or taken off. Reached: share of parts expected to hold until this "
                    "rung is hung.");
    if (isnan(ladder->expected_rungs)) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                     "About %s rungs and %s minutes a pull (%s s on each rung). Chance that a part outlasts "
                     "the ladder %s; that it is stronger than the rig's rating %s.",
                     hf_show_text(d, HF_AS_NUMBER_ROUGH, ladder->expected_rungs),
                     hf_show_text(d, HF_AS_NUMBER_ROUGH, ladder->minutes_per_pull),
                     hf_show_text(d, HF_AS_GIVEN, plan->setup.dwell_s),
                     hf_show_text(d, HF_AS_CHANCE_ROUGH, ladder->run_out),
                     isinf(plan->setup.rating) ? "not known"
                                               : hf_show_text(d, HF_AS_CHANCE_ROUGH, ladder->over_rating));
}

static void add_borrow(hf_document *d, const hf_plan *plan) {
    const hf_plan_borrow *borrow = &plan->borrow;
    if (!borrow->kind) return;
    const char *pieces =
        hf_arena_format(d->arena, "%zu more of %s %s", borrow->pieces,
                        hf_show_text(d, HF_AS_GIVEN, borrow->kind->value), borrow->kind->unit->name);
    if (borrow->parts)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "With %s nearly no part outlasts the ladder, and %zu parts bring a bound near %s.",
                         pieces ? pieces : "more", borrow->parts,
                         hf_show_text(d, HF_AS_ROUGH, borrow->expected));
    else
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "With %s nearly no part outlasts the ladder.",
                         pieces ? pieces : "more");
    hf_document_add(d, HF_BLOCK_PARAGRAPH,
                    "A part that outlasts the weights is recorded as held and counts; never leave it out.");
}

/* Whether rig and weights will do. */
static void add_verdict(hf_document *d, const hf_plan *plan) {
    const hf_ladder *ladder = &plan->ladder;
    bool rated = isfinite(plan->setup.rating), weighed = plan->setup.weight_count > 0;
    if (!ladder->count || isnan(ladder->run_out)) return;
    if (ladder->end == HF_LADDER_ENDS_RATING)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The rig does not suffice: its rating ends the ladder, and %s of the parts are "
                         "expected to outlast it.",
                         hf_show_text(d, HF_AS_CHANCE_ROUGH, ladder->run_out));
    else if (ladder->end == HF_LADDER_ENDS_WEIGHTS && ladder->run_out > 0.01)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH,
                         "The weights do not suffice: with all of them hung, %s of the parts are expected to "
                         "be whole still.",
                         hf_show_text(d, HF_AS_CHANCE_ROUGH, ladder->run_out));
    else if (rated && !ladder->rating_below_twice_top && !ladder->step_too_wide)
        hf_document_add(d, HF_BLOCK_PARAGRAPH,
                        weighed
                            ? "Rig and weights suffice: the ladder ends where nearly no part is left, at "
                              "no more than half the rig's rating, in steps no wider than wanted."
                            : "The rig suffices: the ladder ends where nearly no part is left, at no more "
                              "than half its rating.");
}

static void add_price(hf_document *d, const hf_plan *plan) {
    if (isnan(plan->price_step)) return;
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Price of the step (%s, %s standard deviations): margin × %s%s.",
                     hf_show_text(d, HF_AS_ROUGH, plan->ladder.step_widest),
                     hf_show_text(d, HF_AS_NUMBER_ROUGH, plan->price_step),
                     hf_show_text(d, HF_AS_NUMBER, plan->price.ratio),
                     isnan(plan->price.parts_lost)
                         ? ""
                         : hf_arena_format(d->arena, ", like losing %s of %zu parts",
                                           hf_show_text(d, HF_AS_NUMBER_ROUGH, plan->price.parts_lost),
                                           plan->price_parts));
}

/* What must be thought of before anything is hung. */
void hf_rig_safety(hf_document *d) {
    hf_document_add(d, HF_BLOCK_HEADING, "Before the first pull");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "A part that breaks lets its stored energy go: nobody under, in line with or astride the "
                    "pull; others behind a screen.");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Eyes and toes protected; hands clear before each dwell; weights close above a pad, with "
                    "a slack catch line.");
    hf_document_add(d, HF_BLOCK_ITEM,
                    "Rig rated at least twice the highest step and proof-pulled once; every link stronger "
                    "than the part.");
    hf_document_add(
        d, HF_BLOCK_ITEM,
        "Stop at a creak, a lean, or creep that does not settle: lower, do not add \"just one more\".");
}

static void plan_document(const void *result, hf_document *d) {
    const hf_plan *plan = result;
    const hf_plan_setup *s = &plan->setup;
    hf_document_addf(d, HF_BLOCK_TITLE, "%s",
                     plan->campaign && plan->campaign->title[0] ? plan->campaign->title : "Test plan");
    hf_plan_say_day(d, plan);
    if (s->pilot) {
        hf_plan_say_pilot(d, plan);
    } else {
        add_guess(d, plan);
        add_answer(d, plan);
        hf_plan_say_spread(d, plan);
        add_earlier(d, plan);
        hf_plan_say_calibration(d, plan);
        add_table(d, plan);
        hf_plan_say_looks(d, plan);
        hf_plan_say_batches(d, plan);
    }
    add_ladder(d, plan);
    if (!s->pilot) {
        add_verdict(d, plan);
        add_borrow(d, plan);
        add_price(d, plan);
        if (!plan->stepped)
            hf_document_add(d, HF_BLOCK_PARAGRAPH,
                            "For continuous readings. For stepped pulls add the step or the weights you own, "
                            "and a ladder is proposed.");
        add_scenarios(d, plan);
    }
    if (plan->cautions.count) hf_document_add(d, HF_BLOCK_HEADING, "Cautions");
    hf_document_cautions(d, &plan->cautions, "");
    hf_rig_safety(d);
    hf_limits(d);
}

const hf_report_kind hf_report_plan = {"plan", plan_document, &hf_json_plan};
