#include "command/commands.h"
#include "command/common.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/handover/notebook.h"
#include "holdfast/study/assess.h"
#include "holdfast/study/compare.h"
#include "holdfast/study/handover.h"
#include "holdfast/study/probability_plot.h"

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

static hf_status compute(hf_request *request, hf_notebook *notebook) {
    const notebook_options *options = request->options;
    const hf_campaign *campaign = notebook->campaign;
    hf_arena *arena = request->arena;
    hf_assess_options wanted = {.seed = options->run.seed.count};
    hf_comparison_options compared = {.level = options->verdict.level.number,
                                      .same_within = hf_same_within(&options->verdict),
                                      .seed = options->run.seed.count};
    hf_status status =
        hf_promise_read(&options->promise, &wanted.content, &wanted.confidence, &request->error);
    if (status != HF_OK) return status;
    compared.verdicts_only = is_large(campaign);
    compared.content = wanted.content;
    compared.confidence = wanted.confidence;
    status = hf_assess(arena, campaign, notebook->findings, &wanted, &notebook->assessment, &request->error);
    if (status != HF_OK) return status;
    const hf_probability_plot **plots =
        HF_ARENA_NEW_ARRAY(arena, const hf_probability_plot *, notebook->assessment->count);
    if (!plots) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    notebook->probability = plots;
    for (size_t i = 0; i < notebook->assessment->count; i++)
        if (hf_probability_plot_of(arena, campaign, &notebook->assessment->designs[i], &plots[i]) != HF_OK)
            plots[i] = NULL;
    if (notebook->assessment->count < 2 || notebook->assessment->count > HF_RANKING_LIMIT) return HF_OK;
    status =
        hf_compare(arena, campaign, notebook->findings, &compared, &notebook->comparison, &request->error);
    if (status != HF_OK) return status;
    notebook->assessment = hf_assessment_with_modes(arena, notebook->assessment, notebook->comparison);
    return notebook->assessment ? HF_OK
                                : hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
}

static hf_exit run(hf_request *request) {
    const notebook_options *options = request->options;
    hf_notebook notebook = {0};
    hf_findings findings = {0};
    hf_text text = {0};
    hf_parallel_set_threads((int)options->run.threads.count);
    hf_exit code = hf_request_campaign(request, request->arguments[0], &notebook.campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    notebook.findings = &findings;
    notebook.command = hf_request_line(request);
    request->error.status = compute(request, &notebook);
    if (request->error.status != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, notebook.campaign);
    request->error.status = hf_notebook_write(&notebook, &style, &text, &request->error);
    if (request->error.status != HF_OK) {
        hf_text_free(&text);
        return hf_request_fail(request);
    }
    bool any = notebook.assessment->any_result || (notebook.comparison && notebook.comparison->any_result);
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
