#include <string.h>
#include "command/commands.h"
#include "command/common.h"
#include "command/png.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/chart/chart.h"
#include "holdfast/study/study.h"
#include "holdfast/study/step_curve.h"

typedef struct chart_options {
    hf_option_value design, family, pixels;
    hf_verdict_values verdict;
    hf_promise_values promise;
    hf_unit_values unit;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} chart_options;

static const hf_chart_kind *find_kind(hf_request *request, const char *name) {
    const char *names[32];
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

/* It shows all designs of the file. */
static bool of_all(const hf_chart_kind *kind) {
    return kind->needs_assessment && !kind->needs_design;
}

/* What was asked for and this kind does not know. */
static hf_status check_request(hf_request *request, const hf_chart_kind *kind) {
    const chart_options *options = request->options;
    const struct {
        const char *name;
        bool given, known;
    } rows[] = {
        {"design", options->design.given, !kind->needs_comparison && !kind->needs_earlier && !of_all(kind)},
        {"family", options->family.given, kind->needs_probability},
        {"same-within", options->verdict.same_within.given, kind->needs_comparison},
        {"level", options->verdict.level.given, kind->needs_comparison},
        {"choose-best", options->verdict.choose_best.given, kind->needs_comparison},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].given && !rows[i].known)
            return hf_error_set(
                &request->error, HF_USAGE, "chart %s knows no option --%s%s", kind->name, rows[i].name,
                strcmp(rows[i].name, "design") == 0 ? ", expected the designs behind the file" : "");
    if (options->pixels.given && !hf_png_wanted(&options->output))
        return hf_error_set(&request->error, HF_USAGE,
                            "--pixels is the width of a PNG, expected --output FILE.png with it");
    if (request->argument_count > 2 && !kind->needs_comparison && !kind->needs_earlier)
        return hf_error_set(&request->error, HF_USAGE,
                            "chart %s shows one design, found the word \"%.60s\", expected --design ID",
                            kind->name, request->arguments[2]);
    return HF_OK;
}

static hf_status fail(hf_request *request, hf_status status) {
    return hf_error_set(&request->error, status, "%s", hf_status_text(status));
}

static hf_status make_plan(hf_request *request, const hf_campaign *campaign, const hf_chart_kind *kind,
                           hf_chart_subject *subject) {
    const chart_options *options = request->options;
    hf_plan_setup setup;
    hf_step_curve *curve = HF_ARENA_NEW(request->arena, hf_step_curve);
    if (!curve) return fail(request, HF_MEMORY);
    hf_status status = hf_plan_setup_of(campaign, options->design.text, &setup, &request->error);
    setup.brief = true;
    if (status == HF_OK)
        status = hf_plan_make(request->arena, campaign, &setup, &subject->plan, &request->error);
    if (status != HF_OK || !kind->needs_curve) return status;
    subject->curve = curve;
    status = hf_step_curve_of(subject->plan, curve);
    return status == HF_OK ? status : fail(request, status);
}

/* The design asked for, the file's first unless one is named, after each of its pulls. */
static hf_status make_so_far(hf_request *request, const hf_campaign *campaign, hf_chart_subject *subject) {
    const chart_options *options = request->options;
    hf_so_far *so_far = HF_ARENA_NEW(request->arena, hf_so_far);
    if (!so_far) return fail(request, HF_MEMORY);
    if (!campaign->design_count) return hf_error_set(&request->error, HF_NO_RESULT, "the file has no design");
    const hf_design *design = &campaign->designs[0];
    if (options->design.given)
        design = hf_campaign_find_design(campaign, options->design.text, &request->error);
    if (!design) return request->error.status;
    subject->so_far = so_far;
    return hf_so_far_of(request->arena, campaign, design, options->run.seed.count, so_far, &request->error);
}

/* The designs a kind compares, or the one it is about: the file's first unless one is named. */
static hf_status make_study(hf_request *request, const hf_campaign *campaign, const hf_findings *findings,
                            const hf_chart_kind *kind, hf_chart_subject *subject) {
    const chart_options *options = request->options;
    const char *const *design = options->design.given        ? &options->design.text
                                : campaign->design_count > 0 ? &campaign->designs[0].id
                                                             : NULL;
    hf_study_options wanted = {
        .designs = design, .design_count = design != NULL, .seed = options->run.seed.count};
    const hf_study *study;
    if (kind->needs_comparison) {
        wanted.what = HF_STUDY_PAIRS;
        wanted.designs = request->arguments + 2;
        wanted.design_count = request->argument_count - 2;
        wanted.level = options->verdict.level.number;
        wanted.choose_best = options->verdict.choose_best.given;
        wanted.same_within = hf_same_within(&options->verdict);
    }
    if (of_all(kind)) wanted.design_count = 0;
    if (kind->needs_probability) wanted.what |= HF_STUDY_PLOTS;
    if (options->family.text) wanted.paper = hf_family_find(options->family.text);
    hf_status status =
        hf_promise_read(&options->promise, &wanted.content, &wanted.confidence, &request->error);
    if (status != HF_OK) return status;
    status = hf_study_of(request->arena, campaign, findings, &wanted, &study, &request->error);
    if (status != HF_OK) return status;
    if (kind->needs_comparison && !study->comparison) request->error = study->no_comparison;
    if (!study->assessment->count && kind->needs_design)
        return hf_error_set(&request->error, HF_NO_RESULT, "the file has no design");
    subject->assessment = study->assessment;
    subject->comparison = study->comparison;
    subject->design = study->assessment->count ? &study->assessment->designs[0] : NULL;
    subject->probability = study->assessment->count ? study->designs[0].probability : NULL;
    if (kind->needs_probability && !subject->probability) return fail(request, HF_NO_RESULT);
    return request->error.status;
}

/* All files behind the kind; the first is read already. */
static hf_status make_earlier(hf_request *request, const hf_campaign *first, hf_chart_subject *subject) {
    const chart_options *options = request->options;
    size_t count = request->argument_count - 1;
    const hf_campaign **campaigns = HF_ARENA_NEW_ARRAY(request->arena, const hf_campaign *, count);
    double content, confidence;
    if (!campaigns) return fail(request, HF_MEMORY);
    campaigns[0] = first;
    for (size_t i = 1; i < count; i++) {
        hf_findings findings = {0};
        const char *path = request->arguments[i + 1];
        hf_status status = hf_campaign_read(request->arena, path, &campaigns[i], &findings, &request->error);
        if (status == HF_BAD_DATA && findings.errors)
            return hf_error_set(&request->error, status, "%s: not a valid campaign; holdfast check says why",
                                path);
        if (status != HF_OK) return status;
    }
    hf_status status = hf_promise_read(&options->promise, &content, &confidence, &request->error);
    return status == HF_OK
               ? hf_earlier_of(request->arena, campaigns, count, content > 0 ? content : HF_USUAL_CONTENT,
                               confidence > 0 ? confidence : HF_USUAL_CONFIDENCE, &subject->earlier,
                               &request->error)
               : status;
}

static hf_exit run(hf_request *request) {
    const chart_options *options = request->options;
    const hf_chart_kind *kind = find_kind(request, request->arguments[0]);
    const hf_campaign *campaign;
    hf_findings findings = {0};
    hf_chart_subject subject = {0};
    hf_text text = {0};
    if (!kind || check_request(request, kind) != HF_OK) return hf_request_fail(request);
    hf_parallel_set_threads((int)options->run.threads.count);
    hf_exit code = hf_request_campaign(request, request->arguments[1], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    hf_status status = HF_OK;
    if (kind->needs_plan) status = make_plan(request, campaign, kind, &subject);
    if (status == HF_OK && kind->needs_earlier) status = make_earlier(request, campaign, &subject);
    if (status == HF_OK && kind->needs_so_far) status = make_so_far(request, campaign, &subject);
    if (status == HF_OK && (kind->needs_design || kind->needs_assessment || kind->needs_comparison))
        status = make_study(request, campaign, &findings, kind, &subject);
    hf_report_style style = hf_request_style(request, campaign);
    if (status == HF_OK) status = hf_chart_draw(kind, &subject, &style, &text, &request->error);
    if (status == HF_OK && hf_png_wanted(&options->output))
        status = hf_png_make(request, &text, options->pixels.given ? options->pixels.count : 0);
    if (status == HF_OK) status = hf_request_name_output(request, request->arguments[1], kind->name, "svg");
    request->error.status = status;
    if (status != HF_OK) hf_text_free(&text);
    return status == HF_OK ? hf_request_write(request, &text, HF_EXIT_DONE) : hf_request_fail(request);
}

#define KIND_NAME(kind, needs, words) " " #kind
#define KIND_WORDS(kind, needs, words) #kind ": " words ".\n\n"

static const hf_argument arguments[] = {
    {.name = "KIND", .help = "one of:" HF_CHART_LIST(KIND_NAME)},
    {.name = "FILE", .is_path = true, .help = "campaign file, - for standard input"},
    {.name = "DESIGN",
     .optional = true,
     .many = true,
     .help = "ids of the designs that ratios, league or modes compare, two or more; all of them when none is "
             "given; for scatter more campaign files"},
    {.name = NULL}};

#define OWN(field) .offset = offsetof(chart_options, field)
static const hf_option own_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "the design to draw, where a picture shows one; the first one when not given",
     OWN(design)},
    {.name = "family",
     .type = HF_OPTION_CHOICE,
     .value_name = "FAMILY",
     .choice_at = hf_law_choice,
     .help = "probability: the paper of this law; of the law that governs when not given",
     OWN(family)},
    {.name = "pixels",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 100,
     .maximum = 10000,
     .help = "width of the picture in dots, with --output FILE.png; as many as the drawing has units when "
             "not given",
     OWN(pixels)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_verdict_rows, offsetof(chart_options, verdict)},
                                         {hf_promise_rows, offsetof(chart_options, promise)},
                                         {hf_unit_rows, offsetof(chart_options, unit)},
                                         {hf_output_rows, offsetof(chart_options, output)},
                                         {hf_run_rows, offsetof(chart_options, run)},
                                         {hf_help_rows, offsetof(chart_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast chart card sail.json -o card.png",
     "the answer as a picture to post; needs the package " HF_PNG_PACKAGE},
    {"holdfast chart pulls sail.json -o pulls.svg",
     "every pull of the first design as a bar, with bound and working load"},
    {"holdfast chart probability sail.json --design ring --family weibull -o paper.svg",
     "whether the rings follow the Weibull law"},
    {"holdfast chart bound sail.json --design ring -o bound.svg",
     "what more parts would bring, from the guess"},
    {"holdfast chart ratios sail.json --same-within 10 -o ratios.svg",
     "which design is stronger, which are the same within 10 %"},
    {NULL, NULL}};

const hf_command hf_command_chart = {
    .name = "chart",
    .summary = "draw one result as a picture",
    .arguments = arguments,
    .description = "One SVG picture, with real text and the finding in words; a PNG where the name of the "
                   "output ends in .png (drawn "
                   "by " HF_PNG_PROGRAM ", package " HF_PNG_PACKAGE
                   ").\n\n" HF_CHART_LIST(KIND_WORDS) "A picture shows one design, or compares several: "
                                                      "ratios, league and modes. It follows "
                                                      "the reader's light "
                                                      "or dark mode, prints on white, and needs no network.",
    .groups = groups,
    .options_size = sizeof(chart_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_NO_RESULT) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
