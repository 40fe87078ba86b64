#include "command/commands.h"
#include "command/common.h"
#include "holdfast/report/chart.h"
#include "holdfast/study/step_curve.h"

typedef struct chart_options {
    hf_option_value design;
    hf_unit_values unit;
    hf_output_values output;
    hf_help_values help;
} chart_options;

static const hf_chart_kind *find_kind(hf_request *request, const char *name) {
    const char *names[16];
    size_t count;
    const hf_chart_kind *kind = hf_chart_kind_find(name);
    if (kind) return kind;
    for (count = 0; count < sizeof names / sizeof *names && hf_chart_kind_name(count); count++)
        names[count] = hf_chart_kind_name(count);
    const char *near = hf_text_nearest(name, names, count);
    hf_text all = {0};
    for (size_t i = 0; i < count; i++)
        hf_text_addf(&all, "%s%s", i == 0 ? "" : i + 1 < count ? ", " : " or ", names[i]);
    (void)hf_error_set(&request->error, HF_USAGE, "unknown chart \"%.60s\", expected %s%s%s%s", name,
                       all.bytes ? all.bytes : "another", near ? "; the nearest is \"" : "", near ? near : "",
                       near ? "\"" : "");
    hf_text_free(&all);
    return NULL;
}

static hf_status make_plan(hf_request *request, const hf_campaign *campaign, const hf_chart_kind *kind,
                           hf_chart_subject *subject) {
    const chart_options *options = request->options;
    hf_plan_setup setup;
    hf_step_curve *curve = HF_ARENA_NEW(request->arena, hf_step_curve);
    hf_status status =
        curve ? HF_OK : hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (status == HF_OK) status = hf_plan_setup_of(campaign, options->design.text, &setup, &request->error);
    if (status == HF_OK)
        status = hf_plan_make(request->arena, campaign, &setup, &subject->plan, &request->error);
    if (status != HF_OK || !kind->needs_curve) return status;
    subject->curve = curve;
    status = hf_step_curve_of(subject->plan, curve);
    return status == HF_OK ? status : hf_error_set(&request->error, status, "%s", hf_status_text(status));
}

static hf_status make_assessment(hf_request *request, const hf_campaign *campaign,
                                 const hf_findings *findings, hf_chart_subject *subject) {
    const chart_options *options = request->options;
    hf_assess_options wanted = {.design = options->design.text, .seed = 1};
    const hf_assessment *result;
    if (!wanted.design && campaign->design_count) wanted.design = campaign->designs[0].id;
    hf_status status = hf_assess(request->arena, campaign, findings, &wanted, &result, &request->error);
    if (status == HF_OK && !result->count)
        status = hf_error_set(&request->error, HF_NO_RESULT, "the file has no design");
    if (status == HF_OK) subject->design = &result->designs[0];
    return status;
}

static hf_exit run(hf_request *request) {
    const hf_chart_kind *kind = find_kind(request, request->arguments[0]);
    const hf_campaign *campaign;
    hf_findings findings = {0};
    hf_chart_subject subject = {0};
    hf_text text = {0};
    if (!kind) return hf_request_fail(request);
    hf_exit code = hf_request_campaign(request, request->arguments[1], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    hf_status status = HF_OK;
    if (kind->needs_plan) status = make_plan(request, campaign, kind, &subject);
    if (status == HF_OK && kind->needs_design)
        status = make_assessment(request, campaign, &findings, &subject);
    hf_report_style style = hf_request_style(request, campaign);
    if (status == HF_OK) status = hf_chart_draw(kind, &subject, &style, &text, &request->error);
    request->error.status = status;
    return status == HF_OK ? hf_request_write(request, &text, HF_EXIT_DONE) : hf_request_fail(request);
}

static const hf_argument arguments[] = {
    {.name = "KIND", .help = "pulls, steps, bound, ladder or step"},
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"},
    {.name = NULL}};

static const hf_option own_rows[] = {{.name = "design",
                                      .type = HF_OPTION_TEXT,
                                      .value_name = "ID",
                                      .help = "the design to draw; the first one when not given",
                                      .offset = offsetof(chart_options, design)},
                                     {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_unit_rows, offsetof(chart_options, unit)},
                                         {hf_output_rows, offsetof(chart_options, output)},
                                         {hf_help_rows, offsetof(chart_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast chart pulls sail.json -o pulls.svg",
     "every pull of the first design as a bar, with bound and working load"},
    {"holdfast chart steps sail.json --design ring -o steps.svg",
     "how the best pull shrinks to the working load"},
    {"holdfast chart bound sail.json --design ring -o bound.svg",
     "what more parts would bring, from the guess"},
    {NULL, NULL}};

const hf_command hf_command_chart = {
    .name = "chart",
    .summary = "draw one result as a picture",
    .arguments = arguments,
    .description =
        "One SVG picture, with real text and a description of what it shows. pulls: every pull from held to "
        "failed, with bound and working load. "
        "steps: from the best single pull down to the working load. bound: the bound to expect from 2, 3, … "
        "parts. ladder: the planned rungs under the "
        "guessed strengths. step: what finer or coarser steps cost.\n\n"
        "A picture shows one design. It follows the reader's light or dark mode and needs no network.",
    .groups = groups,
    .options_size = sizeof(chart_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
