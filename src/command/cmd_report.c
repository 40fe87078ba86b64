#include "command/commands.h"
#include "command/common.h"
#include <string.h>
#include "holdfast/handover/report.h"
#include "holdfast/numeric/parallel.h"

typedef struct report_options {
    hf_option_value format, brief;
    hf_strict_values strict;
    hf_promise_values promise;
    hf_verdict_values verdict;
    hf_unit_values unit;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} report_options;

static hf_exit run(hf_request *request) {
    const report_options *options = request->options;
    const hf_report_format *format = hf_report_format_find(options->format.text);
    hf_study_options wanted = {.what = HF_STUDY_PAIRS | HF_STUDY_PLOTS | HF_STUDY_OUTLOOK,
                               .level = options->verdict.level.number,
                               .choose_best = options->verdict.choose_best.given,
                               .same_within = hf_same_within(&options->verdict),
                               .seed = options->run.seed.count,
                               .command = hf_request_line(request)};
    request->error.status =
        hf_promise_read(&options->promise, &wanted.content, &wanted.confidence, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_parallel_set_threads((int)options->run.threads.count);
    const hf_study *study;
    hf_exit code = hf_request_study(request, request->arguments[0], &wanted, &study);
    if (code != HF_EXIT_DONE) return code;
    hf_report_style style = hf_request_style(request, study->campaign);
    hf_text text = {0};
    hf_report_print(options->brief.given ? &hf_report_handover_short : &hf_report_handover, study, format,
                    &style, &text);
    if (strcmp(format->name, "html") == 0)
        (void)hf_request_name_output(request, request->arguments[0], "report", "html");
    return hf_request_write(request, &text, hf_exit_of_answers(study->assessment, options->strict.on.given));
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"}, {.name = NULL}};

static const char *const format_choices[] = {"html", "md", NULL};

static const hf_option own_rows[] = {
    {.name = "format",
     .type = HF_OPTION_CHOICE,
     .value_name = "FORMAT",
     .preset = "html",
     .choices = format_choices,
     .help = "a page for the browser and for paper, or Markdown without "
             "pictures; the numbers for a script come from assess --json",
     .offset = offsetof(report_options, format)},
    {.name = "short",
     .help = "two or three sheets: the answers, the comparison, of each design its "
             "pulls and its sum, nothing that only an auditor wants",
     .offset = offsetof(report_options, brief)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(report_options, promise)},
                                         {hf_strict_rows, offsetof(report_options, strict)},
                                         {hf_verdict_rows, offsetof(report_options, verdict)},
                                         {hf_unit_rows, offsetof(report_options, unit)},
                                         {hf_output_rows, offsetof(report_options, output)},
                                         {hf_run_rows, offsetof(report_options, run)},
                                         {hf_help_rows, offsetof(report_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast report sail.json -o sail.html",
     "one page to read, print or mail: what load is safe, why, and all that stands behind it"},
    {"holdfast report sail.json --format md -o sail.md", "the same in words and tables, for a forum"},
    {NULL, NULL}};

const hf_command hf_command_report = {
    .name = "report",
    .summary = "hand the campaign over: one page with the answer and all that stands behind it",
    .arguments = arguments,
    .description =
        "One file that needs no network and no script. Its first screen shows all designs at one look, best "
        "first; then they stand against each other, and each has its answer, its pulls and its sum. What an "
        "auditor wants is folded, and stands open on paper (--short leaves it out): the way from the best "
        "single pull down to the working load with every factor, every pull, the strength laws "
        "on probability paper, what more parts would bring, the designs against each other, ways of failing, "
        "rules of the trade, cautions, conditions and traceability, the raw table, method and assumptions, "
        "and "
        "how to repeat it. What the file does not state is told as not stated. The page follows the reader's "
        "light or dark mode and prints on A4 and Letter.\n\n"
        "Exit code 1 means that the report was written and a requirement stated in the file is not met, 4 "
        "that "
        "no design has a bound.",
    .groups = groups,
    .options_size = sizeof(report_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_NOT_MET) | HF_EXIT_BIT(HF_EXIT_USAGE) |
             HF_EXIT_BIT(HF_EXIT_BAD_DATA) | HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
