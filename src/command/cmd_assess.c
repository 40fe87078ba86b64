#include "command/commands.h"
#include "command/common.h"
#include "holdfast/numeric/parallel.h"

typedef struct assess_options {
    hf_subject_values subject;
    hf_option_value best_of;
    hf_full_values full;
    hf_strip_values strip;
    hf_strict_values strict;
    hf_promise_values promise;
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} assess_options;

static hf_status read_options(hf_request *request, hf_study_options *wanted,
                              const hf_report_format **format) {
    const assess_options *options = request->options;
    hf_status status = hf_format_read(&options->format, format, &request->error);
    if (status != HF_OK) return status;
    wanted->designs = &options->subject.design.text;
    wanted->design_count = options->subject.design.given;
    hf_law_read(&options->subject.family, &wanted->family, &wanted->by_rule);
    wanted->best_of = (size_t)options->best_of.count;
    wanted->seed = options->run.seed.count;
    hf_parallel_set_threads((int)options->run.threads.count);
    return hf_promise_read(&options->promise, &wanted->content, &wanted->confidence, &request->error);
}

static hf_exit run(hf_request *request) {
    const assess_options *options = request->options;
    const hf_report_format *format;
    hf_study_options wanted = {0};
    if (read_options(request, &wanted, &format) != HF_OK) return hf_request_fail(request);
    const hf_study *study;
    hf_exit code = hf_request_study(request, request->arguments[0], &wanted, &study);
    if (code != HF_EXIT_DONE) return code;
    hf_report_style style = hf_request_style(request, study->campaign);
    hf_text text = {0};
    hf_report_print(options->full.on.given ? &hf_report_assess : &hf_report_assess_short, study->assessment,
                    format, &style, &text);
    return hf_request_write(request, &text, hf_exit_of_answers(study->assessment, options->strict.on.given));
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"}, {.name = NULL}};

static const hf_option own_rows[] = {
    {.name = "best-of",
     .type = HF_OPTION_COUNT,
     .value_name = "D",
     .minimum = 1,
     .maximum = 1000,
     .help =
         "the best of so many designs is picked by this test, here or elsewhere: every bound is taken at a "
         "confidence that keeps the promise whichever it is",
     .offset = offsetof(assess_options, best_of)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_subject_rows, offsetof(assess_options, subject)},
                                         {hf_promise_rows, offsetof(assess_options, promise)},
                                         {hf_full_rows, offsetof(assess_options, full)},
                                         {hf_strip_rows, offsetof(assess_options, strip)},
                                         {hf_strict_rows, offsetof(assess_options, strict)},
                                         {hf_unit_rows, offsetof(assess_options, unit)},
                                         {hf_format_rows, offsetof(assess_options, format)},
                                         {hf_output_rows, offsetof(assess_options, output)},
                                         {hf_run_rows, offsetof(assess_options, run)},
                                         {hf_help_rows, offsetof(assess_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast assess sail.json", "fits the pulls of every design and says what load one may work with"},
    {"holdfast assess sail.json --design ring --basis A --unit kg",
     "one design, for a part nothing else backs up, loads shown as masses"},
    {"holdfast assess sail.json --json -o result.json",
     "the same numbers, unrounded, for a script or notebook"},
    {NULL, NULL}};

const hf_command hf_command_assess = {
    .name = "assess",
    .summary = "turn the pulls into a working load, with every step of the sum",
    .arguments = arguments,
    .description =
        "Fits the strength laws to the pulls of each design, takes the lower tolerance bound (the load that "
        "at least the stated share of all parts carries, with the stated confidence), takes the rig's own "
        "error "
        "off it once, divides by the design factor and rounds down. Rules of the trade stand beside it with "
        "what each of them really promises, and cautions say what the number does not cover. Content, "
        "confidence "
        "and law are those of the file unless they are stated here.\n\n"
        "Exit code 1 means that the result was written and a requirement stated in the file, a bound or a "
        "service load, is not met: a script can stop on it. One that is met only if something holds that "
        "these "
        "pulls cannot check (an assumed scatter, a law chosen by hand, the shares of the ways of failing) "
        "counts as met unless --strict "
        "is given.",
    .groups = groups,
    .options_size = sizeof(assess_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_NOT_MET) | HF_EXIT_BIT(HF_EXIT_USAGE) |
             HF_EXIT_BIT(HF_EXIT_BAD_DATA) | HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
