/* Words of the cautions: what it is, what it means, what to do. One row per code. The slots a code uses (numbers n0 … n3, texts
 * t0, t1; loads in newtons) stand beside its row at the end; hf_caution.message, where the study gives it, holds ready words of a
 * finding in the file, and the row then adds what to do. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/words/report.h"

enum { BOUND_FIGURES = 4, RATING_FIGURES = 3, SEEN_FIGURES = 4, RECORDED_FIGURES = 5 };

typedef struct speaker {
    const hf_caution *caution;
    const hf_report_style *style;
    hf_text *out;
} speaker;

static double in_unit(const speaker *s, double newtons) {
    return newtons / hf_unit_newtons(s->style->unit, s->style->gravity);
}

static void say_load(const speaker *s, double newtons) {
    char number[HF_NUMBER_SIZE];
    hf_text_addf(s->out, "%s %s", hf_number_figures(in_unit(s, newtons), 3, number), s->style->unit->name);
}

/* A promised load: never rounded up. */
static void say_down(const speaker *s, double newtons, int figures) {
    char number[HF_NUMBER_SIZE];
    double shown = hf_number_round_down(in_unit(s, newtons), figures);
    hf_text_addf(s->out, "%s%s %s", shown < 0 ? "−" : "", hf_number_figures(fabs(shown), figures, number),
                 s->style->unit->name);
}

static void say_bound(const speaker *s, double newtons) {
    if (newtons > 0)
        say_down(s, newtons, BOUND_FIGURES);
    else
        hf_text_add(s->out, "no load at all");
}

/* "the bound would be 577.9 N", "there would be no bound above 0" */
static void say_would_be(const speaker *s, double newtons) {
    if (newtons > 0) {
        hf_text_add(s->out, "the bound would be ");
        say_bound(s, newtons);
    } else {
        hf_text_add(s->out, "there would be no bound above 0");
    }
    hf_text_add(s->out, ".");
}

/* A load somebody stated: as stated, at six figures. */
static void say_stated(const speaker *s, double newtons) {
    hf_text_addf(s->out, "%.6g %s", in_unit(s, newtons), s->style->unit->name);
}

/* A load that a pull showed: as recorded where it is a short number in the unit shown, else four figures. */
static void say_seen(const speaker *s, double newtons) {
    char number[HF_NUMBER_SIZE];
    double value = in_unit(s, newtons), recorded = NAN;
    hf_number_figures(value, RECORDED_FIGURES, number);
    bool exact =
        hf_number_read(number, strlen(number), &recorded) && fabs(recorded - value) <= 1e-9 * fabs(value);
    if (exact)
        hf_number_shortest(recorded, number);
    else
        hf_number_figures(value, SEEN_FIGURES, number);
    hf_text_addf(s->out, "%s %s", number, s->style->unit->name);
}

static void say_percent(const speaker *s, double share) {
    char number[HF_NUMBER_SIZE];
    double percent = 100 * share, whole = floor(percent + 0.5);
    /* As in the tables: 12 % as it was stated, 39.0 % as it was found. */
    if (fabs(percent - whole) < 1e-9)
        hf_number_shortest(whole, number);
    else
        hf_number_figures(percent, 3, number);
    hf_text_addf(s->out, "%s %%", number);
}
static void say(const speaker *s, const char *words) {
    hf_text_add(s->out, words);
}
static const char *text_at(const speaker *s, int i) {
    return s->caution->text[i] ? s->caution->text[i] : "?";
}
static const char *text(const speaker *s) {
    return text_at(s, 0);
}
static double number(const speaker *s, int i) {
    return s->caution->number[i];
}

static void say_count(const speaker *s, double count, const char *one, const char *many) {
    hf_text_addf(s->out, "%.0f %s", count, count == 1 ? one : many);
}

static void one_batch(const speaker *s) {
    double batches = number(s, 0), without = number(s, 1);
    if (isnan(batches))
        say(s, "No batch is stated, or one alone.");
    else if (batches == 0)
        say(s, "No batch is stated, so that nothing shows what changing batch does. State the batches.");
    else if (without > 0)
        hf_text_addf(s->out, "One batch is stated, and %.0f %s none. State the batches.", without,
                     without == 1 ? "part states" : "parts state");
    else
        say(s, "All parts are of one batch.");
    say(s, " The next batch may be weaker: pull some of a second and third.");
}

static void few_batches(const speaker *s) {
    hf_text_addf(s->out, "Only %.0f batches were pulled. Three or more show what changing batch does.",
                 number(s, 0));
}

static void batches_differ(const speaker *s) {
    char statistic[HF_NUMBER_SIZE], critical[HF_NUMBER_SIZE];
    hf_text_addf(s->out, "By more than chance explains (k-sample Anderson–Darling %s, critical %s); ",
                 hf_number_figures(number(s, 0), 3, statistic), hf_number_figures(number(s, 1), 3, critical));
    hf_text_addf(s->out, "%.2g %%", 100 * number(s, 2));
    say(s, " of the variance comes from changing batch. Pooling hides the weak one: find out why, or rate "
           "each batch by itself.");
}

static void outlier(const speaker *s) {
    double load = number(s, 2), side = number(s, 3);
    hf_text_addf(s->out, "Part %s", text(s));
    if (load > 0) {
        say(s, " (");
        say_seen(s, load);
        say(s, ")");
    }
    say(s, " lies farther out ");
    if (side < 0 || side > 0) say(s, side < 0 ? "on the weak side " : "on the strong side ");
    hf_text_addf(s->out,
                 "than chance allows (%.2f SD, limit %.2f). It stays in: only a physical cause voids a pull. "
                 "Look at the part.",
                 number(s, 0), number(s, 1));
}

static void fit_rejected(const speaker *s) {
    char significance[HF_NUMBER_SIZE];
    /* No sample of the simulation lay as far out: below its resolution, not nothing. */
    if (number(s, 0) > 0)
        hf_text_addf(
            s->out,
            "The %s law does not fit these pulls (significance %s, below 0.05); do not lean on its bound.",
            text(s), hf_number_figures(number(s, 0), 2, significance));
    else
        hf_text_addf(
            s->out,
            "The %s law does not fit these pulls (no simulated sample lay as far from it); do not lean "
            "on its bound.",
            text(s));
}

static void stated_family_rejected(const speaker *s) {
    hf_text_addf(s->out, "The stated %s law is rejected by the pulls, so the Weibull bound governs.",
                 text(s));
}

static void families_differ(const speaker *s) {
    say(s, "Their bounds lie more than a tenth apart, from ");
    say_bound(s, number(s, 0));
    say(s, " to ");
    say_bound(s, number(s, 1));
    say(s, ". It matters which law is right; more parts can speak against a wrong one.");
}

static void high_scatter(const speaker *s) {
    say(s, "The standard deviation of the failed parts is ");
    say_percent(s, number(s, 0));
    say(s, " of their mean. Above 25 % a promise leans heavily on its strength law; the bounds of the other "
           "laws in the table show how much.");
}

static void few_parts(const speaker *s) {
    hf_text_addf(
        s->out,
        "With %.0f parts no test can tell one strength law from another; that the law fits is no proof.",
        number(s, 0));
}

static void one_part(const speaker *s) {
    say(s, "One part shows no scatter at all. Only a scatter known from earlier parts (\"scatter\", with its "
           "source) can make a bound of it; pull more.");
}

static void two_parts(const speaker *s) {
    say(s, "Two parts hardly show the scatter, so the factor is huge. A third part gains more than anything "
           "else you can do.");
}

static void three_parts(const speaker *s) {
    say(s, "Three parts show the scatter poorly: the true one may be six times as large. Two more parts "
           "about halve the factor.");
}

static void rig_failure(const speaker *s) {
    hf_text_addf(
        s->out,
        "In %.0f of %.0f pulls rig, grip or fixture let go first; those parts count as at least that strong.",
        number(s, 0), number(s, 1));
}

static void all_one_step(const speaker *s) {
    say(s, "All failures lie between ");
    say_seen(s, number(s, 0));
    say(s, " and ");
    say_seen(s, number(s, 1));
    say(s, ". The bound allows for the step alone; take finer steps there to see the scatter.");
}

static void coarse_step(const speaker *s) {
    hf_text_addf(s->out,
                 "The step is %.2g times the standard deviation. Steps finer than one standard deviation "
                 "lower the bound "
                 "less.",
                 number(s, 0));
}

static void first_rung(const speaker *s) {
    say_count(s, number(s, 0), "part", "parts");
    say(s, ", at ");
    say_seen(s, number(s, 1));
    say(s, number(s, 0) == 1 ? ": known only to be weaker than that. Start lighter."
                             : " or more: each known only to be weaker than its load. Start lighter.");
}

static void run_outs(const speaker *s) {
    hf_text_addf(
        s->out,
        "%.0f of %.0f parts were not pulled to failure; each counts as at least as strong as what it held. "
        "More weight shows how strong.",
        number(s, 0), number(s, 1));
}

static void all_run_out(const speaker *s) {
    hf_text_addf(s->out, "None of %.0f parts failed; all held at least ", number(s, 0));
    say_seen(s, number(s, 1));
    say(s, ". That proves a share of parts, no strength. More weight shows where they break.");
}

static void rig_failures(const speaker *s) {
    hf_text_addf(s->out,
                 "In %.0f of %.0f pulls rig, grip or fixture let go first. Above one in five, mend the rig "
                 "before pulling on.",
                 number(s, 0), number(s, 1));
}

static void no_design_factor(const speaker *s) {
    say(s, "There is a bound but no working load without it. The factor is your decision; it stands in the "
           "file as "
           "goal.design_factor.");
}

static void no_set_factor(const speaker *s) {
    say(s, "First movement was watched but no set factor is stated, so only breaking limits the working "
           "load: goal.set_factor.");
}

static void set_without_bound(const speaker *s) {
    say(s, "First movement was watched, but its pulls give no bound; only breaking limits the working load.");
}

static void void_pulls(const speaker *s) {
    say_count(s, number(s, 0), "pull is", "pulls are");
    hf_text_addf(s->out, " void and not used: %s.", text(s));
}

static void void_changes(const speaker *s) {
    say(s, "With the void pulls counted in, ");
    say_would_be(s, number(s, 0));
}

static void reused(const speaker *s) {
    say_count(s, number(s, 0), "pull was", "pulls were");
    say(s, " made on a part that had been loaded before; kept in the file, out of the bound.");
}

static void reused_changes(const speaker *s) {
    say(s, "With the re-used parts counted in, ");
    say_would_be(s, number(s, 0));
}

static void planned_left(const speaker *s) {
    say_count(s, number(s, 0), "planned part is", "planned parts are");
    say(s, " not pulled yet; the result changes with them.");
}

static void dropped_steps(const speaker *s) {
    say(s, "In ");
    say_count(s, number(s, 0), "pull", "pulls");
    say(s, " the failing weight was dropped on: the load may have peaked at twice the step, so that step "
           "counts double.");
}

static void bound_not_positive(const speaker *s) {
    say(s,
        "There is no bound above 0: these pulls promise no load. More parts, a smaller first load and finer "
        "steps where they fail can change that.");
}

static void lowest_95_75(const speaker *s) {
    say(s, "At content 95 % and confidence 75 % the true confidence with stepped pulls is 0.743 at worst, as "
           "found by simulation.");
}

static void stated_scatter(const speaker *s) {
    bool assumed = isinf(number(s, 1));
    say(s, "The bound leans on ");
    say(s, assumed ? "an assumed scatter of " : "a pooled scatter of ");
    say_percent(s, number(s, 0));
    if (!assumed) hf_text_addf(s->out, " with %.3g degrees of freedom", number(s, 1));
    hf_text_addf(s->out, " (source: %s). It is as good as that statement.", text(s));
}

static void no_bound(const speaker *s) {
    hf_text_addf(s->out, "There is no bound: %s.", text(s));
}

static void no_fit(const speaker *s) {
    hf_text_addf(s->out,
                 "The %s law could not be fitted: %s. Its bound, where there is one, comes from the middles.",
                 text(s), text_at(s, 1));
}

static void open_observations(const speaker *s) {
    say(s, "Not every part failed at a known load, so fit and outlier tests are not made. The bound counts a "
           "part that held as at least that strong, and one that failed as at most that strong.");
}

static void required_not_met(const speaker *s) {
    say(s, "The required bound of ");
    say_stated(s, number(s, 1));
    say(s, " is NOT met");
    if (number(s, 0) > 0) {
        say(s, ": the bound is ");
        say_down(s, number(s, 0), BOUND_FIGURES);
        say(s, " after the rig's load error");
    } else if (isfinite(number(s, 0))) {
        say(s, ": there is no bound above 0 after the rig's load error");
    }
    say(s, ". A better design or more parts raise it.");
}

static void service_not_met(const speaker *s) {
    say(s, "The service load of ");
    say_stated(s, number(s, 1));
    say(s, " is NOT covered");
    if (isfinite(number(s, 0))) {
        say(s, ": the working load is ");
        say_down(s, number(s, 0), RATING_FIGURES);
    }
    say(s, ". Do not load the part with it.");
}

/* Findings of the file: their words are ready, only what to do is added. */
static void no_uncertainty(const speaker *s) {
    say(s, "State the rig's load error under rig.uncertainty (gym plates: 3 % tolerance is common; a checked "
           "scale is better).");
}

static void mixed_pull_kinds(const speaker *s) {
    say(s, "Do not pool them without a reason: a faster pull can give another strength.");
}
static void mixed_dwell(const speaker *s) {
    say(s, "Parts that hold a load longer fail lower: pull all with one dwell.");
}
static void ladder_weights(const speaker *s) {
    say(s, "Correct the rung, or plan anew with --write, before anything is hung.");
}
static void tare_zero(const speaker *s) {
    say(s, "Weigh the hanger and correct rig.tare once: every interval moves with it.");
}
static void above_rating(const speaker *s) {
    say(s, "Stop using the rig above its rating; it should stand twice the highest step.");
}
static void not_makeable(const speaker *s) {
    say(s, "Check those loads and the list of weights for a slip of the pen.");
}
static void order(const speaker *s) {
    say(s, "Check order and dates; drift of rig or glue hides in a wrong order.");
}
static void rating_below_twice_top(const speaker *s) {
    say(s, "The rig is rated ");
    say_load(s, number(s, 0));
    say(s, ", less than twice the top rung of ");
    say_load(s, number(s, 1));
    say(s, ". Strengthen the rig or stop lower.");
}

static void strength_over_rating(const speaker *s) {
    say_percent(s, number(s, 0));
    say(s, " of the parts are expected to be stronger than the rig's rating of ");
    say_load(s, number(s, 1));
    say(s, "; the ladder ends below it.");
}

static void plan_run_out(const speaker *s) {
    say_percent(s, number(s, 0));
    say(s, " of the parts are expected to outlast the top rung of ");
    say_load(s, number(s, 1));
    say(s, ". Borrow more weight: run-outs make the bound wider.");
}

static void plan_first_rung(const speaker *s) {
    say_percent(s, number(s, 0));
    say(s, " of the parts are expected to fail at the first rung of ");
    say_load(s, number(s, 1));
    say(s, ". Start lighter.");
}

static void plan_step_wide(const speaker *s) {
    say(s, "The owned weights make steps up to ");
    say_load(s, number(s, 0));
    say(s, " where ");
    say_load(s, number(s, 1));
    say(s, " is wanted. Borrow some small weights.");
}

static void law_unlikely(const speaker *s) {
    hf_text_addf(
        s->out,
        "Pulls like these allow no test of a law, but the %s law fits them far better than the %s law, which "
        "governs: its ln likelihood is %.1f higher.",
        text_at(s, 1), text(s), number(s, 0));
    if (!(number(s, 1) > 0)) return;
    say(s, " Its bound would be ");
    say_bound(s, number(s, 1));
    say(s, " in place of ");
    say_bound(s, number(s, 2));
    say(s, ".");
}

static void modes_lower(const speaker *s) {
    say(s, "Where the ways of failing come in other shares than in these pulls, ");
    if (number(s, 0) > 0) say(s, "only ");
    say_bound(s, number(s, 0));
    say(s, " can be counted on in place of ");
    say_bound(s, number(s, 1));
    if (isfinite(number(s, 2))) {
        say(s, ", a working load of ");
        say_down(s, number(s, 2), RATING_FIGURES);
    }
    if (isfinite(number(s, 3))) {
        say(s, ", below the service load of ");
        say_stated(s, number(s, 3));
    }
    say(s, ". Pull more parts, until each way of failing has been seen often.");
}

static void plan_luck(const speaker *s) {
    if (!(number(s, 1) > 0)) {
        say(s,
            "With so much scatter and so few parts no load can be promised: the expected bound is not above "
            "zero. Find out why the parts scatter, and state the bound you need (--require).");
        return;
    }
    say(s, "With so much scatter the bound is mostly luck: one test in ten ends at ");
    say_down(s, number(s, 0), BOUND_FIGURES);
    say(s, " or less, not half of the expected ");
    say_load(s, number(s, 1));
    if (number(s, 2) > 0) {
        say(s, ". From ");
        say_count(s, number(s, 2), "part", "parts");
        say(s, " on it would be at least half");
    }
    say(s, ". Better still: find out why the parts scatter, and state the bound you need (--require).");
}

static void no_rating(const speaker *s) {
    say(s, "No rating of the rig is stated. It should be at least twice the top rung.");
}

static void mixed_units(const speaker *s) {
    say(s, "Check with `holdfast check`, which echoes every pull as a force.");
}
static void first_rung_held(const speaker *s) {
    say(s, "Write it down: it makes the bound higher.");
}

/* Comparisons. */
static void two_ended(const speaker *s) {
    hf_text_addf(s->out,
                 "%.0f parts had a fitting at each end: %.0f fittings. The end that broke failed in that "
                 "step, the other is known to be "
                 "stronger.",
                 number(s, 0), number(s, 1));
}

static void two_ended_set(const speaker *s) {
    say(s, "First movement is not told apart by ends: it is taken for the whole part, where the weaker end "
           "moves first. For one "
           "fitting that is on the careful side.");
}

static void end_not_stated(const speaker *s) {
    say_count(s, number(s, 0), "part does", "parts do");
    say(s, " not say which of two different fittings broke, and cannot be used here. Write \"broke\": 1, 2 "
           "or \"both\".");
}

static void mode_not_stated(const speaker *s) {
    say_count(s, number(s, 0), "failure has", "failures have");
    say(s, " no way of failing written down; counted as one of its own. Look at the part and note how it "
           "broke.");
}

static void mode_not_fitted(const speaker *s) {
    hf_text_addf(s->out, "Too rare to be fitted: %s (", text(s));
    say_count(s, number(s, 0), "failure", "failures");
    say(s, "). The bound by ways of failing leaves them out and looks better than it is; lean on the one "
           "that does "
           "not tell them apart.");
}

static void stated_scatter_pair(const speaker *s) {
    say(s, "The verdict leans on a scatter stated in the file, which these pulls do not show. Wherever in "
           "its step a part let go, it "
           "holds; if the statement is wrong, so is the verdict.");
}

static void open_common_scatter(const speaker *s) {
    hf_text_addf(s->out,
                 "%.0f of %.0f pulls bound the strength on one side only. Each counts as just that, and the "
                 "verdict "
                 "supposes that both designs scatter alike in per cent and follow the lognormal law. More "
                 "weight makes it firmer.",
                 number(s, 0), number(s, 1));
}

static void open_by_middles(const speaker *s) {
    hf_text_addf(s->out,
                 "%.0f of %.0f pulls are unfinished and no common scatter could be fitted: the verdict comes "
                 "from separate fits to the "
                 "middles, which is slow to call a difference.",
                 number(s, 0), number(s, 1));
}

static void small_group_scatters(const speaker *s) {
    hf_text_addf(s->out, "There are %.0f pulls against %.0f, and %s, the smaller group, scatters more: ",
                 number(s, 0), number(s, 1), text(s));
    say(s, number(s, 2) > 0
               ? "with unfinished pulls an interval that claims 95 % then covers as little as 84 %."
               : "an interval that claims 95 % then covers 90 to 93 %.");
    say(s, " Pull more of it.");
}

static void wide_steps(const speaker *s) {
    if (isinf(number(s, 0)))
        hf_text_addf(s->out, "All failures of %s fell into one step. ", text(s));
    else
        hf_text_addf(s->out, "%s was pulled in steps %.2g times as wide as its middles scatter. ", text(s),
                     number(s, 0));
    say(s, "The middle of so wide a step may be off by more than "
           "the interval allows for, however many parts there are. Use finer steps.");
}

static void scatter_unseen(const speaker *s) {
    say_count(s, number(s, 0), "failure of ", "failures of ");
    hf_text_addf(
        s->out,
        "%s cannot show whether it scatters like the other, as the verdict supposes. If it scattered three "
        "times as "
        "much, an interval that claims 95 %% would cover as little as 84 %%. Pull more of it, to the end.",
        text(s));
}

static void scatter_apart(const speaker *s) {
    hf_text_addf(s->out,
                 "%s scatters %.2g times as much: an interval that claims 95 %% then covers 90 to 93 %%. "
                 "Compare the lower bounds, not "
                 "only the means.",
                 text(s), number(s, 0));
}

static void scatter_apart_open(const speaker *s) {
    hf_text_addf(
        s->out,
        "Fitted for itself, %s scatters %.2g times as much, while the verdict supposes equal "
        "scatter; an interval that claims 95 %% then covers 88 to 94 %%. With a scatter for each, p is "
        "%.2g.",
        text(s), number(s, 0), number(s, 1));
}

static void ladders_coarsened(const speaker *s) {
    hf_text_addf(s->out,
                 "The two were not pulled on one ladder. For the relabeling test all pulls were put on the "
                 "%.0f rungs both share (by %s), "
                 "which costs it sharpness. Pull both on one ladder.",
                 number(s, 0), text(s));
}

static void p_floor(const speaker *s) {
    hf_text_addf(s->out,
                 "With these few pulls the relabeling test cannot get below p = %.2g, so it can never "
                 "confirm a difference at %.2g; the "
                 "verdict leans on the bell shape of ln load.",
                 number(s, 0), number(s, 1));
}

static void tests_disagree(const speaker *s) {
    hf_text_addf(s->out,
                 "Welch's test (p = %.2g) and relabeling (p = %.2g) fall on two sides of the level. The "
                 "verdict follows Welch's, which "
                 "leans on a bell shape of ln load; relabeling leans on equal making but for the name. Pull "
                 "more before relying on it.",
                 number(s, 0), number(s, 1));
}

static void adjusted_away(const speaker *s) {
    hf_text_addf(s->out,
                 "Taken alone this pair would differ (p = %.2g); among all the pairs compared here it does "
                 "not (%.2g). If it was the one "
                 "question asked before the pulls, compare the two alone and say so.",
                 number(s, 0), number(s, 1));
}

static void not_interleaved(const speaker *s) {
    hf_text_addf(s->out,
                 "All of %s were pulled before or after all of %s: a drift of rig, glue or weather would "
                 "look like a difference. Pull in "
                 "mixed order.",
                 text(s), text_at(s, 1));
}

typedef struct word_row {
    const char *code, *title;
    void (*speak)(const speaker *);
} word_row;

static const word_row words[] = {
    {"required_not_met", "Required bound not met",
     required_not_met}, /* n0 bound after calibration (may be NaN), n1 required */
    {"service_not_met", "Service load not covered",
     service_not_met}, /* n0 working load (may be NaN), n1 service load */
    {"bound_not_positive", "Nothing promised", bound_not_positive}, /* n0 bound */
    {"no_bound", "No bound", no_bound},                             /* t0 reason in words */
    {"no_fit", "No fit", no_fit},                                   /* t0 law, t1 reason in words */
    {"no_design_factor", "No design factor", no_design_factor},
    {"no_set_factor", "No set factor", no_set_factor},
    {"set_without_bound", "Set without bound", set_without_bound},
    {"stated_scatter", "Stated scatter",
     stated_scatter}, /* n0 cv, n1 degrees of freedom (infinite: assumed), t0 source */
    {"all_run_out", "No failure", all_run_out}, /* n0 parts, n1 least load held */
    {"run_outs", "Run-outs", run_outs},         /* n0 run-outs, n1 parts */
    {"open_observations", "Unfinished pulls", open_observations},
    {"rig_failures", "Rig let go", rig_failures},                   /* n0 rig failures, n1 parts */
    {"rig_failure", "Rig let go", rig_failure},                     /* n0 rig failures, n1 parts */
    {"first_rung", "Failed at the first load stated", first_rung},  /* n0 parts, n1 least such load */
    {"void_pulls", "Void pulls", void_pulls},                       /* n0 pulls, t0 their ids */
    {"void_changes", "Void pulls counted in", void_changes},        /* n0 bound with them */
    {"reused", "Re-used parts", reused},                            /* n0 pulls */
    {"reused_changes", "Re-used parts counted in", reused_changes}, /* n0 bound with them */
    {"planned_left", "Parts left to pull", planned_left},           /* n0 parts */
    {"dropped_steps", "Dropped weights", dropped_steps},            /* n0 pulls */
    {"all_one_step", "All in one step", all_one_step},              /* n0 lower, n1 upper end */
    {"coarse_step", "Coarse steps", coarse_step},                   /* n0 step in standard deviations */
    {"fit_rejected", "Law rejected", fit_rejected},                 /* t0 law, n0 significance */
    {"stated_family_rejected", "Stated law rejected", stated_family_rejected}, /* t0 law */
    {"families_differ", "The laws differ", families_differ}, /* n0 lowest, n1 highest bound */
    {"one_part", "One part", one_part},
    {"two_parts", "Two parts", two_parts},
    {"three_parts", "Three parts", three_parts},
    {"few_parts", "Few parts", few_parts},          /* n0 parts */
    {"high_scatter", "High scatter", high_scatter}, /* n0 cv */
    {"outlier", "Outlier",
     outlier}, /* t0 specimen, n0 residual, n1 critical value; n2 its load, n3 side (−1 weak, 1 strong), where known */
    {"one_batch", "Batches", one_batch}, /* n0 batches stated (NaN: not told), n1 parts that state none */
    {"few_batches", "Few batches", few_batches}, /* n0 batches */
    {"batches_differ", "Batches differ",
     batches_differ}, /* n0 statistic, n1 critical value, n2 share of variance */
    {"lowest_95_75", "True confidence", lowest_95_75},                       /* n0 0.743 */
    {"no_uncertainty", "No load error stated", no_uncertainty},              /* message */
    {"mixed_pull_kinds", "Two ways of pulling", mixed_pull_kinds},           /* message */
    {"mixed_dwell", "Different dwell", mixed_dwell},                         /* message */
    {"tare_zero", "Tare 0", tare_zero},                                      /* message */
    {"above_rating", "Above the rig's rating", above_rating},                /* message */
    {"not_makeable", "Load cannot be made", not_makeable},                   /* message */
    {"ladder_weights", "Ladder does not add up", ladder_weights},            /* message */
    {"order", "Order", order},                                               /* message */
    {"rating_below_twice_top", "Rig rating", rating_below_twice_top},        /* n0 rating, n1 top rung */
    {"strength_over_rating", "Stronger than the rig", strength_over_rating}, /* n0 share, n1 rating */
    {"plan_run_out", "Run-outs ahead", plan_run_out},                        /* n0 share, n1 top rung */
    {"plan_first_rung", "First rung", plan_first_rung},                      /* n0 share, n1 first rung */
    {"plan_step_wide", "Wide steps", plan_step_wide},                        /* n0 widest, n1 wanted */
    {"law_unlikely", "Another law fits better",
     law_unlikely}, /* t0 governing, t1 best; n0 ln likelihood, n1, n2 their bounds */
    {"modes_lower", "Ways of failing",
     modes_lower}, /* n0 bound by modes, n1 bound, n2 working load by modes, n3 service load not covered */
    {"plan_luck", "Mostly luck",
     plan_luck}, /* n0 one test in ten, n1 expected, n2 parts from which on it is half; 0 none */
    {"no_rating", "No rig rating", no_rating},
    {"mixed_units", "Mixed units", mixed_units},                       /* message */
    {"first_rung_held", "Last load held not stated", first_rung_held}, /* message */
    {"two_ended_set", "Set of two-ended parts", two_ended_set},
    {"two_ended", "Two fittings a part", two_ended},                   /* n0 parts, n1 fittings */
    {"end_not_stated", "Broken end not stated", end_not_stated},       /* n0 parts */
    {"mode_not_stated", "Way of failing not stated", mode_not_stated}, /* n0 failures */
    {"mode_not_fitted", "Rare ways of failing", mode_not_fitted},      /* t0 ways, n0 failures */
    {"stated_scatter_pair", "Stated scatter", stated_scatter_pair},
    {"open_common_scatter", "Unfinished pulls", open_common_scatter}, /* n0 open pulls, n1 pulls */
    {"open_by_middles", "Unfinished pulls", open_by_middles},         /* n0 open pulls, n1 pulls */
    {"small_group_scatters", "Small group scatters more",
     small_group_scatters}, /* n0, n1 pulls, n2 1: some unfinished, t0 the wider design */
    {"wide_steps", "Steps too wide to compare", wide_steps}, /* n0 step over scatter, t0 the design */
    {"scatter_unseen", "Too few failures to see scatter",
     scatter_unseen},                                    /* n0 failures, t0 the design with fewer */
    {"scatter_apart", "Scatter differs", scatter_apart}, /* n0 ratio of scatters, t0 the wider design */
    {"scatter_apart_open", "Scatter differs",
     scatter_apart_open}, /* n0 ratio, n1 p with separate scatter, t0 the wider design */
    {"ladders_coarsened", "Two ladders", ladders_coarsened},    /* n0 common rungs, t0 where they come from */
    {"p_floor", "Relabeling cannot tell", p_floor},             /* n0 least p, n1 level */
    {"tests_disagree", "The tests disagree", tests_disagree},   /* n0 Welch's p, n1 relabeling p */
    {"adjusted_away", "One among several", adjusted_away},      /* n0 p, n1 adjusted p */
    {"not_interleaved", "Not in mixed order", not_interleaved}, /* t0, t1 designs */
};

static const word_row *row_of(const char *code) {
    for (size_t i = 0; code && i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i].code, code) == 0) return &words[i];
    return NULL;
}

bool hf_report_caution_known(const char *code) {
    return row_of(code) != NULL;
}

const char *hf_report_caution_title(const char *code) {
    const word_row *row = row_of(code);
    return row ? row->title : NULL;
}

const char *hf_report_caution_name(const hf_caution *caution) {
    const char *title = hf_report_caution_title(caution->code);
    return title ? title : caution->code;
}

static void say_message(const speaker *s) {
    size_t length = strlen(s->caution->message);
    char last = length ? s->caution->message[length - 1] : '.';
    say(s, s->caution->message);
    say(s, strchr(".?!", last) ? " " : ". ");
}

void hf_report_caution(const hf_caution *caution, const hf_report_style *style, hf_text *out) {
    const speaker s = {caution, style, out};
    const word_row *row = row_of(caution->code);
    if (!row) {
        hf_text_add(out, caution->message ? caution->message : caution->code);
        return;
    }
    if (caution->message) say_message(&s);
    row->speak(&s);
}
