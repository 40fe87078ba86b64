#include "command/commands.h"
#include "command/common.h"
#include "holdfast/numeric/parallel.h"

typedef struct compare_options {
    hf_full_values full;
    hf_strip_values strip;
    hf_verdict_values verdict;
    hf_promise_values promise;
    hf_unit_values unit;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} compare_options;

static hf_status read_options(hf_request *request, hf_study_options *wanted,
                              const hf_report_format **format) {
    const compare_options *options = request->options;
    hf_status status = hf_format_read(&options->format, format, &request->error);
    if (status != HF_OK) return status;
    wanted->designs = request->arguments + 1;
    wanted->design_count = request->argument_count - 1;
    wanted->level = options->verdict.level.number;
    wanted->choose_best = options->verdict.choose_best.given;
    wanted->same_within = hf_same_within(&options->verdict);
    wanted->seed = options->run.seed.count;
    hf_parallel_set_threads((int)options->run.threads.count);
    return hf_promise_read(&options->promise, &wanted->content, &wanted->confidence, &request->error);
}

static hf_exit run(hf_request *request) {
    const compare_options *options = request->options;
    const hf_report_format *format;
    hf_study_options wanted = {.what = HF_STUDY_PAIRS | HF_STUDY_BESIDE};
    if (read_options(request, &wanted, &format) != HF_OK) return hf_request_fail(request);
    const hf_study *study;
    hf_exit code = hf_request_comparison(request, request->arguments[0], &wanted, &study);
    if (code != HF_EXIT_DONE) return code;
    const hf_comparison *result = study->comparison;
    hf_report_style style = hf_request_style(request, study->campaign);
    hf_text text = {0};
    hf_report_print(options->full.on.given ? &hf_report_compare : &hf_report_compare_short, result, format,
                    &style, &text);
    return hf_request_write(request, &text, result->any_result ? HF_EXIT_DONE : HF_EXIT_NO_RESULT);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"},
    {.name = "DESIGN",
     .optional = true,
     .many = true,
     .help = "ids of the designs to compare, two or more; all of them when none is given"},
    {.name = NULL}};

static const hf_option_group groups[] = {{hf_full_rows, offsetof(compare_options, full)},
                                         {hf_strip_rows, offsetof(compare_options, strip)},
                                         {hf_verdict_rows, offsetof(compare_options, verdict)},
                                         {hf_promise_rows, offsetof(compare_options, promise)},
                                         {hf_unit_rows, offsetof(compare_options, unit)},
                                         {hf_format_rows, offsetof(compare_options, format)},
                                         {hf_output_rows, offsetof(compare_options, output)},
                                         {hf_run_rows, offsetof(compare_options, run)},
                                         {hf_help_rows, offsetof(compare_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast compare sail.json",
     "all designs: which is stronger, which cannot be told apart, the league by lower bound"},
    {"holdfast compare sail.json ring eyelet --same-within 10",
     "two of them, which count as the same within 10 %"},
    {"holdfast compare sail.json --json -o verdicts.json",
     "the same numbers, unrounded, for a script or notebook"},
    {NULL, NULL}};

const hf_command hf_command_compare = {
    .name = "compare",
    .summary = "say which design is stronger, or that these pulls cannot tell",
    .arguments = arguments,
    .description =
        "For each pair of designs one of three verdicts: one is stronger, the two are the same within what "
        "you call the same "
        "(--same-within), or these pulls cannot tell. Beside it stand the ratio with its interval, the "
        "smallest ratio this test could have "
        "seen, the parts that would settle it, and a second test that leans on other assumptions. Stepped "
        "and unfinished pulls are taken as "
        "what they are. Several designs are judged together, so that more pairs do not mean more false "
        "alarms, and ranked by lower bound, "
        "never by best pull.\n\n"
        "Parts pulled against each other (head_to_head) are counted with an exact test. Ways of failing "
        "(mode) are told apart, and parts with "
        "a fitting at each end (ends, broke) give the strength of one fitting and of several in a row.\n\n"
        "Exit code 4 means that no pair could be compared: one pull of each, for example, says nothing "
        "without a stated scatter.",
    .groups = groups,
    .options_size = sizeof(compare_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
