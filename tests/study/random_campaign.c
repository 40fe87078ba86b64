#include "study/random_campaign.h"

#include <math.h>
#include "holdfast/base/number.h"
#include "holdfast/numeric/random.h"
#include "shuffle.h"

static const char *const batches[] = {"spring", "autumn", "winter"};
static const char *const modes[] = {"stitch", "cloth", "pull-through"};

/* --- Making ------------------------------------------------------------------------------------------ */

static bool chance(hf_random *random, double p) {
    return hf_random_uniform(random) < p;
}

typedef struct ladder {
    double first, step;
    bool readings; /* read continuously */
} ladder;

static hf_test_pull pull_of(hf_random *random, const ladder *on, double strength, bool open) {
    hf_test_pull pull = {.kind = HF_TEST_STEP, .batch = -1, .mode = -1};
    double rung = floor((strength - on->first) / on->step);
    if (chance(random, 0.05)) pull.kind = HF_TEST_PLANNED;
    if (open && chance(random, 0.25)) pull.kind = chance(random, 0.7) ? HF_TEST_HELD : HF_TEST_RIG;
    if (rung < 0) {
        pull.failed = on->first;
        if (pull.kind == HF_TEST_STEP) pull.kind = HF_TEST_FIRST_RUNG;
        rung = 0;
    }
    if (pull.kind != HF_TEST_FIRST_RUNG) {
        pull.held = on->first + rung * on->step;
        pull.failed = pull.held + on->step;
    }
    pull.dropped = pull.kind == HF_TEST_STEP && chance(random, 0.04);
    if (on->readings && pull.kind == HF_TEST_STEP && !pull.dropped && chance(random, 0.8)) {
        pull.kind = HF_TEST_PEAK;
        pull.held = round(strength);
    }
    return pull;
}

static hf_test_design design_of(hf_random *random, const ladder *on, double mean, double cv) {
    hf_test_design design = {.count = 1 + (size_t)hf_random_below(random, HF_TEST_PULLS - 2)};
    static const char *const families[] = {"normal", "lognormal", "weibull"};
    bool open = chance(random, 0.35), batched = chance(random, 0.4), moded = chance(random, 0.2),
         set = chance(random, 0.15);
    double normal[HF_TEST_PULLS];
    hf_random_fill_normal(random, normal, HF_TEST_PULLS);
    if (chance(random, 0.3)) design.family = families[hf_random_below(random, 3)];
    if (chance(random, 0.2)) {
        design.cv = 0.08;
        design.degrees = chance(random, 0.5) ? 12 : 0;
    }
    for (size_t i = 0; i < design.count; i++) {
        hf_test_pull *pull = &design.pulls[i];
        *pull = pull_of(random, on, mean * exp(cv * normal[i]), open);
        if (batched && chance(random, 0.9)) pull->batch = (int)hf_random_below(random, 3);
        if (moded && chance(random, 0.9)) pull->mode = (int)hf_random_below(random, 3);
        if (set && pull->kind == HF_TEST_STEP && pull->held > 2 * on->step) {
            pull->set_held = pull->held - 2 * on->step;
            pull->set_seen = pull->held - on->step;
        }
    }
    return design;
}

hf_test_campaign hf_test_campaign_of(uint64_t seed) {
    static const double steps[] = {2.5, 5, 1.2, 10};
    hf_random random;
    hf_test_campaign out = {.mass = false};
    hf_random_start(&random, seed, 0);
    out.mass = chance(&random, 0.5);
    out.tare = chance(&random, 0.6) ? 2.6 : 0;
    out.resolution = chance(&random, 0.2) ? 0.5 : 0;
    out.service = chance(&random, 0.5) ? 11 : 0;
    out.required = chance(&random, 0.5) ? 60 : 0;
    out.factor = chance(&random, 0.8) ? 3 : 0;
    double step = steps[hf_random_below(&random, 4)], mean = 90;
    for (size_t i = 0; i < HF_TEST_DESIGNS; i++) {
        ladder on = {chance(&random, 0.15) ? 85 : step * floor(50 / step), step, chance(&random, 0.3)};
        out.designs[i] = design_of(&random, &on, mean, chance(&random, 0.5) ? 0.05 : 0.12);
        if (chance(&random, 0.4)) mean *= 0.8;
        if (chance(&random, 0.2)) step *= 2;
    }
    return out;
}

/* --- Writing ----------------------------------------------------------------------------------------- */

typedef struct writer {
    const hf_test_campaign *campaign;
    const hf_test_writing *how;
    hf_text *out;
} writer;

/* A person writes 0.88 kN, not 0.88000000000000012 kN. */
static void load(const writer *w, const char *key, double value) {
    char text[HF_NUMBER_SIZE];
    double scaled = value * w->how->scale;
    const char *written = hf_number_shortest(scaled, text);
    if (w->how->smaller_unit)
        written = hf_number_figures(w->campaign->mass ? scaled * 1000 : scaled / 1000, 15, text);
    hf_text_addf(w->out, ", \"%s\": %s", key, written);
}

static void specimen(const writer *w, const hf_test_pull *pull, size_t design, size_t number) {
    static const char *const outcomes[] = {NULL, NULL, "held", "rig", NULL, "void", "planned"};
    hf_text_addf(w->out, "{\"id\": \"d%zu-%zu\"", design, number);
    if (pull->kind == HF_TEST_PEAK)
        load(w, "peak", pull->held);
    else if (pull->kind != HF_TEST_PLANNED && pull->kind != HF_TEST_FIRST_RUNG)
        load(w, "held", pull->held);
    if (pull->kind == HF_TEST_STEP || pull->kind == HF_TEST_FIRST_RUNG || pull->kind == HF_TEST_VOID)
        load(w, "failed", pull->failed);
    if (pull->set_held > 0) {
        load(w, "set_held", pull->set_held);
        load(w, "set_seen", pull->set_seen);
    }
    if (outcomes[pull->kind]) hf_text_addf(w->out, ", \"outcome\": \"%s\"", outcomes[pull->kind]);
    if (pull->kind == HF_TEST_VOID) hf_text_add(w->out, ", \"note\": \"wrong thread\"");
    if (pull->dropped) hf_text_add(w->out, ", \"dropped\": true");
    if (pull->batch >= 0) hf_text_addf(w->out, ", \"batch\": \"%s\"", batches[pull->batch]);
    bool broke = pull->kind == HF_TEST_STEP || pull->kind == HF_TEST_PEAK || pull->kind == HF_TEST_FIRST_RUNG;
    if (broke && pull->mode >= 0) hf_text_addf(w->out, ", \"mode\": \"%s\"", modes[pull->mode]);
    hf_text_add(w->out, "}");
}

static void specimens(const writer *w, size_t at) {
    const hf_test_design *design = &w->campaign->designs[at];
    size_t order[HF_TEST_PULLS];
    hf_random random;
    hf_random_start(&random, w->how->shuffle, at);
    for (size_t i = 0; i < design->count; i++) order[i] = i;
    if (w->how->shuffle) hf_random_shuffle(&random, order, design->count);
    for (size_t i = 0; i < design->count; i++) {
        hf_text_add(w->out, i ? ",\n  " : "\n  ");
        specimen(w, &design->pulls[order[i]], at, order[i]);
    }
    if (!w->how->more_void) return;
    hf_test_pull wrong = {.kind = HF_TEST_VOID, .held = 20, .failed = 22.5, .batch = -1, .mode = -1};
    hf_text_add(w->out, ",\n  ");
    specimen(w, &wrong, at, HF_TEST_PULLS);
}

static void design(const writer *w, size_t at) {
    const hf_test_design *d = &w->campaign->designs[at];
    hf_text_addf(w->out, "{\"id\": \"d%zu\"", at);
    if (d->family)
        hf_text_addf(w->out, ", \"family\": \"%s\", \"family_reason\": \"earlier tests\"", d->family);
    if (d->cv > 0) {
        hf_text_addf(w->out, ", \"scatter\": {\"cv\": %g, \"source\": \"earlier tests\"", d->cv);
        if (d->degrees > 0)
            hf_text_addf(w->out, ", \"degrees_of_freedom\": %g}", d->degrees);
        else
            hf_text_add(w->out, ", \"degrees_of_freedom\": \"assumed\"}");
    }
    hf_text_add(w->out, ", \"specimens\": [");
    specimens(w, at);
    hf_text_add(w->out, "]}");
}

static void heading(const writer *w) {
    const hf_test_campaign *c = w->campaign;
    const char *unit = c->mass ? w->how->smaller_unit ? "g" : "kg" : w->how->smaller_unit ? "kN" : "N";
    hf_text_addf(
        w->out,
        "{\"format\": \"holdfast-campaign/1\", \"title\": \"Made at random\", \"unit\": \"%s\",\n\"rig\": {",
        unit);
    hf_text_add(w->out, "\"records\": \"added\"");
    load(w, "tare", c->tare);
    if (c->resolution > 0) load(w, "resolution", c->resolution);
    hf_text_add(w->out,
                ", \"uncertainty\": [{\"source\": \"weights\", \"kind\": \"tolerance\", \"relative\": "
                "0.01}]},\n\"goal\": {\"content\": 0.9");
    if (c->factor > 0) hf_text_addf(w->out, ", \"design_factor\": %g", c->factor);
    if (c->service > 0) load(w, "service_load", c->service);
    if (c->required > 0) load(w, "required_bound", c->required);
    hf_text_add(w->out, "},\n\"designs\": [");
}

void hf_test_write(const hf_test_campaign *campaign, const hf_test_writing *how, hf_text *out) {
    writer w = {campaign, how, out};
    bool first = true;
    heading(&w);
    for (size_t i = 0; i < HF_TEST_DESIGNS; i++) {
        size_t at = how->reversed ? HF_TEST_DESIGNS - 1 - i : i;
        if (how->only >= 0 && at != (size_t)how->only) continue;
        if (!first) hf_text_add(out, ",\n");
        first = false;
        design(&w, at);
    }
    hf_text_add(out, "]}\n");
}
