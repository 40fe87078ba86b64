#include "command/commands.h"
#include "command/common.h"
#include "command/plan_options.h"
#include "command/plan_write.h"
#include <string.h>
#include "holdfast/numeric/parallel.h"

typedef struct plan_options {
    hf_subject_values subject;
    hf_promise_values promise;
    hf_option_value write, own_ladders, parts, batches, tell_apart;
    hf_plan_values plan;
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} plan_options;

static hf_exit judge(const hf_plan *plan) {
    bool wanted = plan->setup.required == plan->setup.required && !plan->setup.pilot; /* not NaN */
    const hf_how_many_row *asked = plan->setup.parts ? hf_plan_row(plan, plan->setup.parts) : NULL;
    bool met = asked ? asked->assurance >= plan->setup.assurance : plan->base.parts.recommended > 0;
    return wanted && !met ? HF_EXIT_NOT_MET : HF_EXIT_DONE;
}

static hf_exit turned_round(hf_request *request, const hf_campaign *campaign, const hf_plan_setup *setup,
                            const hf_report_format *format) {
    const plan_options *options = request->options;
    const hf_plan_strong *strong;
    hf_text text = {0};
    if (options->write.given)
        request->error.status = hf_error_set(
            &request->error, HF_USAGE,
            "--write needs a guess of the mean: --mean, or holdfast set FILE --design ID guess.mean LOAD");
    else
        request->error.status =
            hf_plan_strong_make(request->arena, campaign, setup, &strong, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, campaign);
    hf_report_print(&hf_report_plan_strong, strong, format, &style, &text);
    return hf_request_write(request, &text, hf_plan_strong_can(strong) ? HF_EXIT_DONE : HF_EXIT_NOT_MET);
}

static hf_exit run(hf_request *request) {
    const plan_options *options = request->options;
    const hf_report_format *format;
    const hf_campaign *campaign = NULL;
    hf_findings findings = {0};
    hf_plan_setup setup;
    const hf_plan *plan;
    hf_exit written = HF_EXIT_DONE;
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    if (request->argument_count > 0) {
        hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
        if (code != HF_EXIT_DONE) return code;
    }
    if (options->write.given && (!campaign || strcmp(request->arguments[0], "-") == 0)) {
        (void)hf_error_set(&request->error, HF_USAGE,
                           "--write needs a campaign file to write into: holdfast plan FILE --write");
        return hf_request_fail(request);
    }
    if (options->write.given && options->plan.tare.given) {
        (void)hf_error_set(&request->error, HF_USAGE,
                           "--write plans for the rig in the file: write the tare there instead of --tare");
        return hf_request_fail(request);
    }
    hf_parallel_set_threads((int)options->run.threads.count);
    if (hf_plan_options_read(request, &options->plan, &options->subject, &options->promise, campaign,
                             &setup) != HF_OK)
        return hf_request_fail(request);
    setup.seed = options->run.seed.count;
    setup.own_ladders = options->own_ladders.given;
    setup.tell_apart = options->tell_apart.number;
    setup.parts = (size_t)options->parts.count;
    setup.batches_asked = options->batches.given;
    if (setup.batches_asked) setup.batches = (size_t)options->batches.count;
    if (setup.parts > setup.most) setup.most = setup.parts;
    if (setup.parts && setup.looks_asked) {
        (void)hf_error_set(&request->error, HF_USAGE,
                           "--parts with --looks: the last look says how many; leave out one of the two");
        return hf_request_fail(request);
    }
    if (hf_plan_is_inverse(campaign, &setup)) return turned_round(request, campaign, &setup, format);
    request->error.status = hf_plan_make(request->arena, campaign, &setup, &plan, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    if (options->write.given) {
        written = hf_plan_write(request, plan);
        if (written != HF_EXIT_DONE && written != HF_EXIT_NO_RESULT) return written;
    }
    hf_report_style style = hf_request_style(request, campaign);
    hf_text text = {0};
    hf_report_print(&hf_report_plan, plan, format, &style, &text);
    return hf_request_write(request, &text, written != HF_EXIT_DONE ? written : judge(plan));
}

static const hf_argument arguments[] = {
    {.name = "FILE",
     .is_path = true,
     .optional = true,
     .help = "campaign file with guess, rig, weights and goal; without it the flags say all"},
    {.name = NULL}};

#define OWN(field) .offset = offsetof(plan_options, field)
static const hf_option own_rows[] = {
    {.name = "write",
     .type = HF_OPTION_FLAG,
     .help = "add planned parts in random order and the ladders to FILE: of "
             "every design with a guess or a first pull, or only of --design",
     OWN(write)},
    {.name = "parts",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 2,
     .maximum = 1000,
     .help = "pull so many of each design: what they bring, whatever is recommended",
     OWN(parts)},
    {.name = "batches",
     .type = HF_OPTION_COUNT,
     .value_name = "B",
     .minimum = 2,
     .maximum = 100,
     .help =
         "spread the parts over so many batches: what that brings where a tenth, three tenths, half of the "
         "variance lies between batches; with --write each part gets its batch",
     OWN(batches)},
    {.name = "tell-apart",
     .type = HF_OPTION_NUMBER,
     .value_name = "SHARE",
     .maximum = 1,
     .help =
         "difference between two designs of FILE that must be noticed, such as 15%, with a chance of 80 % "
         "at a level of 5 % over all pairs",
     OWN(tell_apart)},
    {.name = "own-ladders",
     .type = HF_OPTION_FLAG,
     .help =
         "a ladder for each design of FILE; by default all climb one, so that rung can be compared with rung",
     OWN(own_ladders)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_plan_subject_rows, offsetof(plan_options, subject)},
                                         {hf_promise_rows, offsetof(plan_options, promise)},
                                         {hf_plan_rows, offsetof(plan_options, plan)},
                                         {hf_unit_rows, offsetof(plan_options, unit)},
                                         {hf_format_rows, offsetof(plan_options, format)},
                                         {hf_output_rows, offsetof(plan_options, output)},
                                         {hf_run_rows, offsetof(plan_options, run)},
                                         {hf_help_rows, offsetof(plan_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast plan --mean 900 --cv 0.12 --tare \"2.6 kg\" --rating \"2.5 kN\" --weights \"6x10kg 2x5kg "
     "4x2kg\"",
     "how many parts, and a ladder from the weights at hand"},
    {"holdfast plan sail.json --design ring --require 450",
     "parts needed so that the bound reaches 450 with 80 % assurance"},
    {"holdfast plan sail.json --batches 5", "the parts from five batches, and what fewer would bring"},
    {"holdfast plan sail.json --write",
     "the plan goes into the file: planned parts, their order, the ladders"},
    {"holdfast plan --mean 900 --cv 0.12 --family normal --json",
     "closed forms for continuous readings, for a script"},
    {"holdfast plan --service-load 80kg --design-factor 4 --cv 10% --weights \"12x5kg 6x2kg\"",
     "no guess of the mean: how strong a part must be, and what these weights can show at most"},
    {"holdfast plan --pilot-from 100 --pilot-to 2000 --weights \"12x10kg 2x5kg\"",
     "nothing is known: a growing ladder for one part"},
    {NULL, NULL}};

const hf_command hf_command_plan = {
    .name = "plan",
    .summary = "say how many parts to pull and on which ladder of loads",
    .arguments = arguments,
    .description =
        "From a guess of mean and scatter: how many parts, what a smaller number costs, and a "
        "two-speed ladder of loads that the owned "
        "weights can make with the least handling. The same at half and double the guessed "
        "scatter, the price of the step, and what the "
        "rig and the weights do not allow.\n\n"
        "A design whose first one to three pulls are in the file is planned from what they show, "
        "unless --mean says otherwise. The required bound is what must be left after the rig's "
        "stated errors are taken off; a service load with its factors counts as one.\n\n"
        "Without a guess of the mean, but with a scatter and a required bound or service load, the "
        "question is turned round: how strong a typical part must be with 3, 5 and 10 parts, and "
        "what rig and weights can show at most.\n\n"
        "Stepped pulls are simulated on the very ladder that is proposed, with the bound that "
        "assess will use. Without step, weights, "
        "tare or rating the readings count as continuous.",
    .groups = groups,
    .options_size = sizeof(plan_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_NOT_MET) | HF_EXIT_BIT(HF_EXIT_USAGE) |
             HF_EXIT_BIT(HF_EXIT_BAD_DATA) | HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
