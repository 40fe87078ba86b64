#include "command/commands.h"
#include "command/common.h"
#include "command/plan_write.h"
#include <string.h>

typedef struct proof_options {
    hf_option_value load, write, design, failures, overload, shape, n;
    hf_promise_values promise;
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_help_values help;
} proof_options;

/* What is asked of a design of the file; the promise is the file's where none is said. */
static hf_status read_setup(hf_request *request, const hf_campaign *campaign, hf_plan_setup *setup,
                            hf_plan_proof *proof) {
    const proof_options *options = request->options;
    hf_error *error = &request->error;
    hf_load load;
    hf_status status = hf_plan_setup_of(campaign, options->design.text, setup, error);
    if (status == HF_OK)
        status = hf_promise_read(&options->promise, &proof->content, &proof->confidence, error);
    if (status != HF_OK) return status;
    if (campaign && !(proof->content > 0)) proof->content = setup->content;
    if (campaign && !(proof->confidence > 0)) proof->confidence = setup->confidence;
    setup->content = proof->content;
    setup->confidence = proof->confidence;
    if (!(proof->content > 0 && proof->confidence > 0))
        return hf_error_set(error, HF_USAGE,
                            "expected both --content P and --confidence C, or --basis LETTER");
    if (!campaign && (options->load.given || options->write.given || options->design.given))
        return hf_error_set(error, HF_USAGE,
                            "--load, --design and --write need a campaign file: holdfast plan proof FILE");
    if (options->write.given && proof->overload > 1)
        return hf_error_set(
            error, HF_USAGE,
            "--write with --overload: a file cannot say that a shape is taken for granted; assess "
            "counts the parts that held, whatever the law");
    if (!options->load.given) return HF_OK;
    status = hf_load_read(options->load.text, strlen(options->load.text), campaign->unit, &load, error);
    if (status != HF_OK) return error->status = HF_USAGE;
    setup->required = hf_load_newtons(load, campaign->gravity);
    setup->by_service = false;
    return HF_OK;
}

static hf_exit run(hf_request *request) {
    const proof_options *options = request->options;
    const hf_report_format *format;
    const hf_campaign *campaign = NULL;
    hf_findings findings = {0};
    hf_plan_setup setup;
    hf_exit written = HF_EXIT_DONE;
    hf_plan_proof plan = {.failures = (size_t)options->failures.count,
                          .overload = options->overload.number,
                          .shape = options->shape.number,
                          .given_n = (size_t)options->n.count};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    if (request->argument_count > 0) {
        hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
        if (code != HF_EXIT_DONE) return code;
    }
    hf_status status = read_setup(request, campaign, &setup, &plan);
    if (status == HF_OK) status = hf_plan_proof_make(&plan, &request->error);
    if (status == HF_OK && campaign)
        status = hf_plan_proof_in(request->arena, campaign, &setup, &plan, &request->error);
    request->error.status = status;
    if (status != HF_OK) return hf_request_fail(request);
    if (options->write.given) written = hf_plan_write(request, plan.plan);
    if (written != HF_EXIT_DONE) return written;
    hf_report_style style = hf_request_style(request, campaign);
    hf_text text = {0};
    hf_report_print(&hf_report_plan_proof, &plan, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "FILE",
     .is_path = true,
     .optional = true,
     .help = "campaign file with rig, weights and goal; without it only the number of parts is told"},
    {.name = NULL}};

#define OWN(field) .offset = offsetof(proof_options, field)
static const hf_option own_rows[] = {
    {.name = "load",
     .type = HF_OPTION_LOAD,
     .value_name = "LOAD",
     .help = "load to be proven, after the rig's stated errors; with FILE its required bound, or its service "
             "load "
             "times the factors, when not given",
     OWN(load)},
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "the design of FILE, the first when not given",
     OWN(design)},
    {.name = "write",
     .help = "add the parts in random order and the way to the load to FILE, for sheet, day and record",
     OWN(write)},
    {.name = "failures",
     .type = HF_OPTION_COUNT,
     .value_name = "X",
     .preset = "0",
     .maximum = 10000,
     .help = "failures that are allowed",
     OWN(failures)},
    {.name = "overload",
     .type = HF_OPTION_NUMBER,
     .value_name = "R",
     .preset = "1",
     .minimum = 1,
     .maximum = 100,
     .help = "load hung over load to be proven",
     OWN(overload)},
    {.name = "shape",
     .type = HF_OPTION_NUMBER,
     .value_name = "B",
     .maximum = 1000,
     .help = "Weibull shape, the low end of what is plausible; with --overload",
     OWN(shape)},
    {.name = "n",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 1,
     .maximum = 1000000,
     .help = "say what this number of parts proves",
     OWN(n)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(proof_options, promise)},
                                         {hf_unit_rows, offsetof(proof_options, unit)},
                                         {hf_format_rows, offsetof(proof_options, format)},
                                         {hf_output_rows, offsetof(proof_options, output)},
                                         {hf_help_rows, offsetof(proof_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast plan proof --content 0.90 --confidence 0.95", "29 parts that all hold the load"},
    {"holdfast plan proof --content 0.90 --confidence 0.90 --overload 1.5 --shape 2",
     "fewer parts at one and a half times the load"},
    {"holdfast plan proof sail.json --load 30kg --write",
     "what to hang on how many rings, and into the file for test day"},
    {NULL, NULL}};

const hf_command hf_command_plan_proof = {
    .name = "plan proof",
    .summary = "say how many parts must hold a load to prove it",
    .arguments = arguments,
    .description =
        "Parts that must all hold a load (or all but a few) so that at least the stated share of "
        "all parts holds it with the stated "
        "confidence, whatever the strength law. Overloading needs fewer parts but leans on a "
        "Weibull shape known from elsewhere. "
        "Parts that held a proof load are scrapped or marked.\n\n"
        "With a campaign file it also says what must hang, from the weights there are and with the rig's "
        "stated errors taken off; --write brings it to the sheet, and assess judges the parts that held.",
    .groups = groups,
    .options_size = sizeof(proof_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
