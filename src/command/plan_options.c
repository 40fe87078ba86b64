#include "command/plan_options.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/load/weight_list.h"

#define VALUE(field) .offset = offsetof(hf_plan_values, field)
const hf_option hf_plan_rows[] = {
    {.name = "mean",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "guessed mean strength",
     VALUE(mean)},
    {.name = "cv",
     .type = HF_OPTION_NUMBER,
     .value_name = "V",
     .maximum = 1,
     .help = "guessed scatter, standard deviation over mean: 0.12 for 12 %",
     VALUE(cv)},
    {.name = "require",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "bound that is wanted, after the rig's stated errors are taken off",
     VALUE(require)},
    {.name = "service-load",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what the part has to carry in use; times the factors it is the bound that is wanted",
     VALUE(service_load)},
    {.name = "design-factor",
     .type = HF_OPTION_NUMBER,
     .value_name = "F",
     .minimum = 1,
     .maximum = 1000,
     .help = "divides the bound to give the load in use; your decision, no default",
     VALUE(design_factor)},
    {.name = "assurance",
     .type = HF_OPTION_NUMBER,
     .value_name = "Q",
     .preset = "0.8",
     .minimum = 0,
     .maximum = 1,
     .open_ends = true,
     .help = "wanted chance of reaching it",
     VALUE(assurance)},
    {.name = "step",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help =
         "fine step of the ladder; by default half a standard deviation for up to four parts, one for more",
     VALUE(step)},
    {.name = "max-n",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .preset = "30",
     .minimum = 1,
     .maximum = 1000,
     .help = "last number of parts in the table, 2 or more; 1 only for a design with its scatter stated",
     VALUE(max_n)},
    {.name = "looks",
     .type = HF_OPTION_TEXT,
     .value_name = "LIST",
     .help = "numbers of parts at which a bound is to be taken: 5:15 for every one from 5 to 15, 5:15:5, or "
             "5,10; "
             "with --write they go into the file",
     VALUE(looks)},
    {.name = "early",
     .type = HF_OPTION_NUMBER,
     .value_name = "C",
     .minimum = 0.5,
     .maximum = 1,
     .open_ends = true,
     .help = "confidence of every look but the last, such as 0.99: strict early looks make a cheap last one",
     VALUE(early)},
    {.name = "tare",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what pulls with nothing added: hanger, hook, rope",
     VALUE(tare)},
    {.name = "rating",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "what the rig may carry",
     VALUE(rating)},
    {.name = "weights",
     .type = HF_OPTION_TEXT,
     .value_name = "LIST",
     .help = "weights you own, such as \"6x10kg 2x5kg\"",
     VALUE(weights)},
    {.name = "dwell",
     .type = HF_OPTION_NUMBER,
     .value_name = "SECONDS",
     .maximum = 86400,
     .help = "waited on each rung; 30 unless the file says otherwise",
     VALUE(dwell)},
    {.name = "handling",
     .type = HF_OPTION_NUMBER,
     .value_name = "SECONDS",
     .preset = "5",
     .maximum = 3600,
     .help = "to put on or take off one piece",
     VALUE(handling)},
    {.name = "pilot-from",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "pilot for when nothing is known: first rung of a growing ladder",
     VALUE(pilot_from)},
    {.name = "pilot-to",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "pilot: last rung",
     VALUE(pilot_to)},
    {.name = NULL}};

/* One design is planned at a time, unlike elsewhere. */
const hf_option hf_plan_subject_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "the one design that is planned, by its id; the first of the file when not given",
     .offset = offsetof(hf_subject_values, design)},
    {.name = "family",
     .type = HF_OPTION_CHOICE,
     .value_name = "FAMILY",
     .choice_at = hf_family_choice,
     .help = "strength law that governs, the file's when not given",
     .offset = offsetof(hf_subject_values, family)},
    {.name = NULL}};

typedef struct load_reader {
    hf_request *request;
    const hf_unit *unit;
    double gravity;
} load_reader;

static hf_status read_load(const load_reader *reader, const hf_option_value *value, double *out) {
    hf_load load;
    if (!value->given) return HF_OK;
    hf_status status =
        hf_load_read(value->text, strlen(value->text), reader->unit, &load, &reader->request->error);
    if (status != HF_OK) {
        reader->request->error.status = HF_USAGE;
        return HF_USAGE;
    }
    *out = hf_load_newtons(load, reader->gravity);
    return HF_OK;
}

static hf_status read_weights(const load_reader *reader, const char *list, hf_plan_setup *setup) {
    hf_weight_item items[HF_WEIGHT_LIST_MOST];
    size_t count;
    hf_status status =
        hf_weight_list_read(list, NULL, items, HF_WEIGHT_LIST_MOST, &count, &reader->request->error);
    if (status != HF_OK) return status;
    hf_weight *weights = HF_ARENA_NEW_ARRAY(reader->request->arena, hf_weight, count);
    if (!weights) return hf_error_set(&reader->request->error, HF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++)
        weights[i] = (hf_weight){hf_load_newtons(items[i].load, reader->gravity), items[i].load.value,
                                 items[i].load.unit, items[i].count};
    setup->weights = weights;
    setup->weight_count = count;
    return HF_OK;
}

static hf_status read_loads(const load_reader *reader, const hf_plan_values *values, hf_plan_setup *setup) {
    const struct {
        const hf_option_value *value;
        double *into;
    } loads[] = {{&values->mean, &setup->mean},         {&values->require, &setup->required},
                 {&values->step, &setup->step},         {&values->tare, &setup->force.tare},
                 {&values->rating, &setup->rating},     {&values->pilot_from, &setup->pilot_start},
                 {&values->pilot_to, &setup->pilot_top}};
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++) {
        hf_status status = read_load(reader, loads[i].value, loads[i].into);
        if (status != HF_OK) return status;
    }
    if (values->pilot_from.given != values->pilot_to.given)
        return hf_error_set(&reader->request->error, HF_USAGE,
                            "expected --pilot-from and --pilot-to together");
    const struct {
        const hf_option_value *value;
        const char *name;
        const char *why;
    } guessed[] = {{&values->mean, "mean", "a pilot is for when nothing is known"},
                   {&values->cv, "cv", "a pilot is for when nothing is known"},
                   {&values->require, "require", "a pilot is for when nothing is known"},
                   {&values->step, "step", "a pilot's steps grow with the load"}};
    for (size_t i = 0; values->pilot_from.given && i < sizeof guessed / sizeof *guessed; i++)
        if (guessed[i].value->given)
            return hf_error_set(&reader->request->error, HF_USAGE,
                                "--%s with --pilot-from: %s; leave out one of the two", guessed[i].name,
                                guessed[i].why);
    return values->weights.given ? read_weights(reader, values->weights.text, setup) : HF_OK;
}

/* Service load and factor of the file, as far as they are not said anew. */
static hf_status read_goal(const load_reader *reader, const hf_plan_values *values,
                           const hf_campaign *campaign, hf_plan_setup *setup) {
    hf_goal goal = campaign ? hf_campaign_design(campaign, setup->design)->goal : (hf_goal){0};
    if (!values->service_load.given && !values->design_factor.given) return HF_OK;
    hf_status status = read_load(reader, &values->service_load, &goal.service_load.value);
    if (status != HF_OK) return status;
    goal.service_load.given |= values->service_load.given;
    if (values->design_factor.given) goal.design_factor = (hf_maybe){true, values->design_factor.number};
    if (!goal.service_load.given || !goal.design_factor.given)
        return hf_error_set(
            &reader->request->error, HF_USAGE,
            "expected --service-load and --design-factor together: only both say what must be shown");
    if (values->require.given) goal.required_bound.given = false;
    hf_plan_take_goal(&goal, setup);
    return HF_OK;
}

static hf_status wrong_looks(hf_request *request, const char *text) {
    return hf_error_set(
        &request->error, HF_USAGE,
        "--looks: found \"%.60s\", expected 5:15, 5:15:2 or rising numbers such as 5,10,15, each "
        "from 2 to %d, at most %d looks",
        text, HF_LOOKS_LAST, HF_LOOKS_MOST);
}

size_t hf_numbers_read(const char *text, char mark, size_t *out, size_t most) {
    size_t count = 0;
    while (count < most) {
        size_t digits = strspn(text, "0123456789");
        if (!digits || digits > 4) return 0;
        out[count++] = (size_t)strtoul(text, NULL, 10);
        text += digits;
        if (!*text) return count;
        if (*text++ != mark) return 0;
    }
    return 0;
}

hf_status hf_looks_read(hf_request *request, const hf_option_value *value, const hf_option_value *early,
                        hf_stated_looks *out) {
    size_t range[3] = {0, 0, 1}, *parts;
    const char *text = value->text;
    if (early && early->given && (!value->given || strchr(text, ',')))
        return hf_error_set(&request->error, HF_USAGE,
                            "--early: expected with --looks FIRST:LAST or FIRST:LAST:EVERY");
    if (!value->given) return HF_OK;
    parts = HF_ARENA_NEW_ARRAY(request->arena, size_t, HF_LOOKS_MOST);
    if (!parts) return hf_error_set(&request->error, HF_MEMORY, "out of memory");
    hf_stated_looks looks = {
        .given = true, .parts = parts, .early = early && early->given ? early->number : 0};
    if (strchr(text, ':')) {
        if (hf_numbers_read(text, ':', range, 3) < 2 ||
            hf_looks_list(range[0], range[1], range[2], parts, &looks.count) != HF_OK)
            return wrong_looks(request, text);
        looks.every = range[2];
    } else {
        looks.count = hf_numbers_read(text, ',', parts, HF_LOOKS_MOST);
        bool good = looks.count > 0;
        for (size_t i = 0; good && i < looks.count; i++)
            good = parts[i] > (i ? parts[i - 1] : 1) && parts[i] <= HF_LOOKS_LAST;
        if (!good) return wrong_looks(request, text);
    }
    looks.first = parts[0];
    looks.last = parts[looks.count - 1];
    *out = looks;
    return HF_OK;
}

static hf_status read_looks(hf_request *request, const hf_plan_values *values, hf_plan_setup *setup) {
    hf_status status = hf_looks_read(request, &values->looks, &values->early, &setup->looks);
    if (status == HF_OK && values->looks.given) setup->looks_asked = true;
    return status;
}

hf_status hf_plan_options_read(hf_request *request, const hf_plan_values *values,
                               const hf_subject_values *subject, const hf_promise_values *promise,
                               const hf_campaign *campaign, hf_plan_setup *setup) {
    double content, confidence;
    const hf_family *stated;
    bool by_rule;
    hf_status status = hf_plan_setup_of(campaign, subject->design.text, setup, &request->error);
    if (status == HF_OK) status = hf_promise_read(promise, &content, &confidence, &request->error);
    if (status != HF_OK) return status;
    if (content > 0) setup->content = content;
    if (confidence > 0) setup->confidence = confidence;
    hf_law_read(&subject->family, &stated, &by_rule);
    if (stated || by_rule) setup->family = stated;
    if (values->cv.given) setup->cv = values->cv.number;
    setup->design_stated = subject->design.given;
    if (values->mean.given) setup->mean_stated = true;
    if (values->require.given) setup->by_service = false;
    if (values->dwell.given) setup->dwell_s = values->dwell.number;
    setup->handling_s = values->handling.number;
    setup->assurance = values->assurance.number;
    setup->most = (size_t)values->max_n.count;
    setup->pilot = values->pilot_from.given;
    bool rig_by_flags = values->tare.given || values->rating.given;
    if (rig_by_flags && setup->force.records == HF_RIG_RECORDS_NONE)
        setup->force.records = HF_RIG_RECORDS_ADDED;
    const load_reader reader = {request, campaign ? campaign->unit : hf_unit_find("N", 1),
                                campaign ? campaign->gravity : HF_GRAVITY_STANDARD};
    status = read_looks(request, values, setup);
    if (status == HF_OK) status = read_loads(&reader, values, setup);
    return status == HF_OK ? read_goal(&reader, values, campaign, setup) : status;
}
