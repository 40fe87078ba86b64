#include "command/commands.h"
#include "command/common.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/handover/notebook.h"

typedef struct notebook_options {
    hf_promise_values promise;
    hf_verdict_values verdict;
    hf_unit_values unit;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} notebook_options;

/* Past so many pairs of large designs relabeling would take minutes; the verdicts do not need it. */
enum { MOST_RELABELED = 50000 };

static bool is_large(const hf_campaign *campaign) {
    size_t pulls = 0;
    for (size_t i = 0; i < campaign->design_count; i++) pulls += campaign->designs[i].specimen_count;
    return campaign->design_count * pulls > MOST_RELABELED;
}

static hf_exit run(hf_request *request) {
    const notebook_options *options = request->options;
    hf_study_options wanted = {.what = HF_STUDY_PAIRS | HF_STUDY_PLOTS,
                               .level = options->verdict.level.number,
                               .choose_best = options->verdict.choose_best.given,
                               .same_within = hf_same_within(&options->verdict),
                               .seed = options->run.seed.count,
                               .command = hf_request_line(request)};
    const hf_campaign *campaign;
    hf_findings findings = {0};
    const hf_study *study;
    hf_text text = {0};
    hf_parallel_set_threads((int)options->run.threads.count);
    request->error.status =
        hf_promise_read(&options->promise, &wanted.content, &wanted.confidence, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    if (!is_large(campaign)) wanted.what |= HF_STUDY_BESIDE;
    request->error.status =
        hf_study_of(request->arena, campaign, &findings, &wanted, &study, &request->error);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, campaign);
    request->error.status = hf_notebook_write(study, &style, &text, &request->error);
    if (request->error.status != HF_OK) {
        hf_text_free(&text);
        return hf_request_fail(request);
    }
    (void)hf_request_name_output(request, request->arguments[0], "", "ipynb");
    bool any = study->assessment->any_result || (study->comparison && study->comparison->any_result);
    return hf_request_write(request, &text, any ? HF_EXIT_DONE : HF_EXIT_NO_RESULT);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"}, {.name = NULL}};

static const hf_option_group groups[] = {{hf_promise_rows, offsetof(notebook_options, promise)},
                                         {hf_verdict_rows, offsetof(notebook_options, verdict)},
                                         {hf_unit_rows, offsetof(notebook_options, unit)},
                                         {hf_output_rows, offsetof(notebook_options, output)},
                                         {hf_run_rows, offsetof(notebook_options, run)},
                                         {hf_help_rows, offsetof(notebook_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast notebook sail.json -o sail.ipynb",
     "everything about the file, for someone who wants to redo it"},
    {"holdfast notebook sail.json --unit kg -o sail.ipynb", "the same with all loads as masses"},
    {NULL, NULL}};

const hf_command hf_command_notebook = {
    .name = "notebook",
    .summary = "write data, method, results and a second computation as a notebook",
    .arguments = arguments,
    .description =
        "Writes a Jupyter notebook (nbformat 4.5): the data, the method in words and formulas, the results, "
        "the charts, all to be "
        "read without running anything; and cells of Python that compute fits, factors, bounds, working load "
        "and comparison a second "
        "time from the file's records, and stop where they differ from Holdfast's numbers by more than a "
        "millionth. They need "
        "nothing but Python's standard library, and use scipy for a further opinion where it is "
        "installed.\n\n"
        "The notebook holds the whole file, its notes and info too: look before you hand it on.\n\n"
        "Exit code 4 means that the notebook was written and nothing could be computed from the data.",
    .groups = groups,
    .options_size = sizeof(notebook_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
