/* Words of the cautions: what it is, what it means, what to do. One row per code; the slots used stand in the row's function. */
#include <math.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/report/report.h"
#include "holdfast/strength/family.h"

typedef struct speaker {
    const hf_caution *caution;
    const hf_report_style *style;
    hf_text *out;
} speaker;

static void say_load(const speaker *s, double newtons) {
    char number[HF_NUMBER_SIZE];
    hf_number_figures(newtons / hf_unit_newtons(s->style->unit, s->style->gravity), 3, number);
    hf_text_addf(s->out, "%s %s", number, s->style->unit->name);
}

static void say_percent(const speaker *s, double share) { hf_text_addf(s->out, "%.3g %%", 100 * share); }
static void say(const speaker *s, const char *words) { hf_text_add(s->out, words); }
static const char *text(const speaker *s) { return s->caution->text[0] ? s->caution->text[0] : "?"; }
static double number(const speaker *s, int i) { return s->caution->number[i]; }

/* number0: used parts of one part's plural */
static void say_count(const speaker *s, double count, const char *one, const char *many) {
    hf_text_addf(s->out, "%.0f %s", count, count == 1 ? one : many);
}

static void one_batch(const speaker *s) {
    say(s, "All parts are of one batch (or none is stated). The next batch may be weaker: pull some of a second and third.");
}

static void few_batches(const speaker *s) {
    hf_text_addf(s->out, "Only %.0f batches were pulled. Three or more show what changing batch does.", number(s, 0));
}

static void batches_differ(const speaker *s) {
    hf_text_addf(s->out, "The batches differ (k-sample Anderson–Darling %.3f above %.3f); ", number(s, 0), number(s, 1));
    say_percent(s, number(s, 2));
    say(s, " of the variance comes from changing batch. Pooling hides the weak one: find out why, or rate each batch by itself.");
}

static void outlier(const speaker *s) {
    hf_text_addf(s->out, "%s lies farther out than chance allows (%.2f SD, limit %.2f). It stays in: only a physical cause voids a pull. Look at the part.",
                 text(s), number(s, 0), number(s, 1));
}

static void fit_rejected(const speaker *s) {
    hf_text_addf(s->out, "The %s law does not fit these pulls (significance %.2g, below 0.05).", text(s), number(s, 0));
}

static void stated_family_rejected(const speaker *s) {
    hf_text_addf(s->out, "The stated %s law is rejected by the pulls, so the Weibull bound governs.", text(s));
}

static void families_differ(const speaker *s) {
    say(s, "The laws disagree by more than a tenth: their bounds run from ");
    say_load(s, number(s, 0));
    say(s, " to ");
    say_load(s, number(s, 1));
    say(s, ". More parts bring them together.");
}

static void high_scatter(const speaker *s) {
    say(s, "The scatter is high (");
    say_percent(s, number(s, 0));
    say(s, " of the mean). Above 25 % the promise leans on the Weibull law; compare the normal bound in the table.");
}

static void few_parts(const speaker *s) {
    hf_text_addf(s->out, "With %.0f parts no test can tell one strength law from another; that the law fits is no proof.", number(s, 0));
}

static void all_one_step(const speaker *s) {
    say(s, "All failures lie in one step, between ");
    say_load(s, number(s, 0));
    say(s, " and ");
    say_load(s, number(s, 1));
    say(s, ". The bound allows for the step alone; take finer steps there to see the scatter.");
}

static void coarse_step(const speaker *s) {
    hf_text_addf(s->out, "The steps are coarse: %.2g times the standard deviation. Steps below one standard deviation cost less.", number(s, 0));
}

static void first_rung(const speaker *s) {
    say_count(s, number(s, 0), "part", "parts");
    say(s, " failed at the first load, down to ");
    say_load(s, number(s, 1));
    say(s, ": only known to be weaker than that. Start lighter.");
}

static void run_outs(const speaker *s) {
    hf_text_addf(s->out, "%.0f of %.0f parts held all the weight there was; they count as at least that strong.", number(s, 0), number(s, 1));
}

static void all_run_out(const speaker *s) {
    hf_text_addf(s->out, "None of %.0f parts failed; all held at least ", number(s, 0));
    say_load(s, number(s, 1));
    say(s, ". That proves a share of parts, no strength. More weight shows where they break.");
}

static void rig_failures(const speaker *s) {
    hf_text_addf(s->out, "In %.0f of %.0f pulls rig, grip or fixture let go first. Above one in five, mend the rig before pulling on.",
                 number(s, 0), number(s, 1));
}

static void no_design_factor(const speaker *s) {
    say(s, "No design factor is stated, so there is a bound but no working load. The factor is your decision: goal.design_factor.");
}

static void no_set_factor(const speaker *s) {
    say(s, "First movement was watched but no set factor is stated, so only breaking limits the working load: goal.set_factor.");
}

static void set_without_bound(const speaker *s) {
    say(s, "First movement was watched, but its pulls give no bound; only breaking limits the working load.");
}

static void void_pulls(const speaker *s) {
    say_count(s, number(s, 0), "pull is", "pulls are");
    hf_text_addf(s->out, " void and not used: %s.", text(s));
}

static void void_changes(const speaker *s) {
    say(s, "With the void pulls counted in, the bound would be ");
    say_load(s, number(s, 0));
    say(s, ".");
}

static void reused(const speaker *s) {
    say_count(s, number(s, 0), "pull was", "pulls were");
    say(s, " made on a part that had been loaded before; kept in the file, out of the bound.");
}

static void reused_changes(const speaker *s) {
    say(s, "With the re-used parts counted in, the bound would be ");
    say_load(s, number(s, 0));
    say(s, ".");
}

static void planned_left(const speaker *s) {
    say_count(s, number(s, 0), "planned part is", "planned parts are");
    say(s, " not pulled yet.");
}

static void dropped_steps(const speaker *s) {
    say(s, "In ");
    say_count(s, number(s, 0), "pull", "pulls");
    say(s, " the failing weight was dropped on: the load may have peaked at twice the step, so that step counts double.");
}

static void bound_not_positive(const speaker *s) {
    say(s, "The bound is not above 0: so few parts with so much scatter promise nothing under this law. Pull more parts.");
}

static void lowest_95_75(const speaker *s) { say(s, "For content 95 % at confidence 75 % the true confidence is 0.743 at worst."); }

static void stated_scatter(const speaker *s) {
    bool assumed = isinf(number(s, 1));
    say(s, "The bound leans on ");
    say(s, assumed ? "an assumed scatter of " : "a pooled scatter of ");
    say_percent(s, number(s, 0));
    if (!assumed) hf_text_addf(s->out, " with %.3g degrees of freedom", number(s, 1));
    hf_text_addf(s->out, " (source: %s). It is as good as that statement.", text(s));
}

static void no_bound(const speaker *s) { hf_text_addf(s->out, "No bound: %s.", text(s)); }

static void required_not_met(const speaker *s) {
    say(s, "The required bound of ");
    say_load(s, number(s, 1));
    say(s, " is NOT met");
    if (isfinite(number(s, 0))) {
        say(s, ": the bound is ");
        say_load(s, number(s, 0));
    }
    say(s, ".");
}

static void service_not_met(const speaker *s) {
    say(s, "The service load of ");
    say_load(s, number(s, 1));
    say(s, " is NOT covered");
    if (isfinite(number(s, 0))) {
        say(s, ": the working load is ");
        say_load(s, number(s, 0));
    }
    say(s, ".");
}

typedef struct word_row {
    const char *code;
    void (*speak)(const speaker *);
} word_row;

static const word_row words[] = {
    {"required_not_met", required_not_met},
    {"service_not_met", service_not_met},
    {"bound_not_positive", bound_not_positive},
    {"no_bound", no_bound},
    {"no_design_factor", no_design_factor},
    {"no_set_factor", no_set_factor},
    {"set_without_bound", set_without_bound},
    {"stated_scatter", stated_scatter},
    {"all_run_out", all_run_out},
    {"run_outs", run_outs},
    {"rig_failures", rig_failures},
    {"first_rung", first_rung},
    {"void_pulls", void_pulls},
    {"void_changes", void_changes},
    {"reused", reused},
    {"reused_changes", reused_changes},
    {"planned_left", planned_left},
    {"dropped_steps", dropped_steps},
    {"all_one_step", all_one_step},
    {"coarse_step", coarse_step},
    {"fit_rejected", fit_rejected},
    {"stated_family_rejected", stated_family_rejected},
    {"families_differ", families_differ},
    {"few_parts", few_parts},
    {"high_scatter", high_scatter},
    {"outlier", outlier},
    {"one_batch", one_batch},
    {"few_batches", few_batches},
    {"batches_differ", batches_differ},
    {"lowest_95_75", lowest_95_75},
};

bool hf_report_caution_known(const char *code) {
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i].code, code) == 0) return true;
    return false;
}

void hf_report_caution(const hf_caution *caution, const hf_report_style *style, hf_text *out) {
    const speaker s = {caution, style, out};
    if (caution->message) {
        hf_text_add(out, caution->message);
        return;
    }
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(words[i].code, caution->code) == 0) {
            words[i].speak(&s);
            return;
        }
    hf_text_add(out, caution->code);
}
