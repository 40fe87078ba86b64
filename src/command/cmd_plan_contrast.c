#include "command/commands.h"
#include "command/common.h"
#include "holdfast/numeric/parallel.h"

typedef struct contrast_options {
    hf_option_value ratio, cv, effect, power, level, one_sided, step_sd, n;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} contrast_options;

static hf_exit run(hf_request *request) {
    const contrast_options *options = request->options;
    const hf_report_format *format;
    hf_plan_contrast plan = {.ratio = options->ratio.number,
                             .cv = options->cv.number,
                             .effect = options->effect.number,
                             .by_ratio = options->ratio.given,
                             .power = options->power.number,
                             .level = options->level.number,
                             .one_sided = options->one_sided.given,
                             .step_sd = options->step_sd.number,
                             .given_n = (size_t)options->n.count,
                             .seed = options->run.seed.count};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    if (options->ratio.given == options->effect.given) {
        (void)hf_error_set(&request->error, HF_USAGE, "expected either --ratio R with --cv V, or --effect D");
        return hf_request_fail(request);
    }
    hf_parallel_set_threads((int)options->run.threads.count);
    if (hf_plan_contrast_make(&plan, &request->error) != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, NULL);
    hf_text text = {0};
    hf_report_print(&hf_report_plan_contrast, &plan, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {{.name = NULL}};

#define OWN(field) .offset = offsetof(contrast_options, field)
static const hf_option own_rows[] = {
    {.name = "ratio",
     .type = HF_OPTION_NUMBER,
     .value_name = "R",
     .maximum = 1000,
     .help = "ratio of the two strengths that must not be overlooked",
     OWN(ratio)},
    {.name = "cv",
     .type = HF_OPTION_NUMBER,
     .value_name = "V",
     .maximum = 1,
     .help = "scatter of both designs, with --ratio",
     OWN(cv)},
    {.name = "effect",
     .type = HF_OPTION_NUMBER,
     .value_name = "D",
     .maximum = 1000,
     .help = "or the difference in standard deviations",
     OWN(effect)},
    {.name = "power",
     .type = HF_OPTION_NUMBER,
     .value_name = "Q",
     .preset = "0.8",
     .maximum = 1,
     .open_ends = true,
     .help = "wanted chance to notice it",
     OWN(power)},
    {.name = "level",
     .type = HF_OPTION_NUMBER,
     .value_name = "A",
     .preset = "0.05",
     .maximum = 1,
     .open_ends = true,
     .help = "chance to see a difference where there is none",
     OWN(level)},
    {.name = "one-sided",
     .type = HF_OPTION_FLAG,
     .help = "only one of the two can be the stronger",
     OWN(one_sided)},
    {.name = "step-sd",
     .type = HF_OPTION_NUMBER,
     .value_name = "H",
     .preset = "0",
     .maximum = 12,
     .help = "step of the ladder in standard deviations; 0 for a scale that is read",
     OWN(step_sd)},
    {.name = "n",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 1,
     .maximum = 100000,
     .help = "say what this number of each can see",
     OWN(n)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_format_rows, offsetof(contrast_options, format)},
                                         {hf_output_rows, offsetof(contrast_options, output)},
                                         {hf_run_rows, offsetof(contrast_options, run)},
                                         {hf_help_rows, offsetof(contrast_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {{"holdfast plan contrast --ratio 1.2 --cv 0.1 --power 0.8 --level 0.05",
                                       "parts of each design to notice that one is 20 % stronger"},
                                      {"holdfast plan contrast --effect 1 --power 0.9 --level 0.05 --json",
                                       "the same for a difference of one standard deviation"},
                                      {NULL, NULL}};

const hf_command hf_command_plan_contrast = {
    .name = "plan contrast",
    .summary = "say how many parts tell two designs apart",
    .arguments = arguments,
    .description =
        "Parts per design so that a stated ratio (or effect) is noticed with the wanted power by the "
        "test that compare uses, and for the relabeling test beside it; what the textbook's noncentral t "
        "says stands there too. And the other way round: the smallest ratio that a number of parts can see.",
    .groups = groups,
    .options_size = sizeof(contrast_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
