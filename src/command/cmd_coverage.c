#include "command/commands.h"
#include "command/common.h"
#include "command/plan_options.h"
#include <math.h>
#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/json.h"
#include "holdfast/numeric/parallel.h"

typedef struct coverage_options {
    hf_option_value family, truth, n, cv, step_sd, offset_sd, replicates, method, ladder, looks, best_of,
        batches, between, earlier, earlier_parts, earlier_step, apart, shard;
    hf_promise_values promise;
    hf_format_values format;
    hf_output_values output;
    hf_run_values run;
    hf_help_values help;
} coverage_options;

static const char *method_choice(size_t at) {
    const hf_planning_method *method = hf_planning_method_at(at);
    return method ? method->name : NULL;
}

static const char *ladder_choice(size_t at) {
    return at < HF_COVERAGE_LADDERS ? hf_coverage_ladder_name((hf_coverage_ladder)at) : NULL;
}

static hf_coverage_ladder ladder_of(const coverage_options *options) {
    for (size_t i = 0; i < HF_COVERAGE_LADDERS; i++)
        if (strcmp(ladder_choice(i), options->ladder.text) == 0 && options->step_sd.number > 0)
            return (hf_coverage_ladder)i;
    return HF_LADDER_CONTINUOUS;
}

static hf_coverage_cell cell_of(const coverage_options *options) {
    const hf_family *bound = hf_family_find(options->family.text); /* "auto": NULL, the governing rule */
    const hf_family *truth = options->truth.text ? hf_family_find(options->truth.text) : bound;
    return (hf_coverage_cell){.truth = hf_family_governing(truth),
                              .cv = options->cv.number,
                              .family = bound,
                              .method = hf_planning_method_find(options->method.text),
                              .n = (size_t)options->n.count,
                              .ladder = ladder_of(options),
                              .step = options->step_sd.number,
                              .offset = options->offset_sd.number,
                              .coarse = 4,
                              .past_designs = (size_t)options->earlier.count,
                              .past_parts = (size_t)options->earlier_parts.count,
                              .past_apart = options->apart.number,
                              .past_step = options->earlier_step.number,
                              .replicates = (size_t)options->replicates.count,
                              .seed = options->run.seed.count,
                              .ladder_seed = options->run.seed.count};
}

/* --- What people do with bounds ---------------------------------------------------------------------- */

/* Storage of what a cell borrows. */
typedef struct cell_lists {
    hf_look_plan looks;
    size_t batches[HF_LOOKS_MOST];
} cell_lists;

static hf_status read_batches(hf_request *request, cell_lists *kept, hf_coverage_cell *cell) {
    const coverage_options *options = request->options;
    size_t parts = 0;
    if (!options->batches.given) return HF_OK;
    cell->batch_count = hf_numbers_read(options->batches.text, ',', kept->batches, HF_LOOKS_MOST);
    for (size_t i = 0; i < cell->batch_count; i++) parts += kept->batches[i];
    if (cell->batch_count < 2 || parts != cell->n)
        return hf_error_set(
            &request->error, HF_USAGE,
            "--batches: found \"%.60s\", expected the parts of two batches or more, %zu in all, such as "
            "5,5,5",
            options->batches.text, cell->n);
    cell->batches = kept->batches;
    cell->between_share = options->between.number;
    return HF_OK;
}

/* Looks, designs and batches; the confidence of each bound becomes the one that a campaign with these would be judged by. */
static hf_status read_doings(hf_request *request, cell_lists *kept, hf_coverage_cell *cell) {
    const coverage_options *options = request->options;
    hf_goal goal = {0};
    hf_promise promise;
    hf_status status = hf_looks_read(request, &options->looks, NULL, &goal.looks);
    if (status == HF_OK) status = read_batches(request, kept, cell);
    if (status != HF_OK) return status;
    if (goal.looks.given && goal.looks.last != cell->n)
        return hf_error_set(&request->error, HF_USAGE,
                            "--looks: the last look is after %zu parts, expected --n %zu", goal.looks.last,
                            goal.looks.last);
    cell->designs = (size_t)options->best_of.count;
    status = hf_promise_of(&goal, cell->content, cell->confidence, cell->n, 0, cell->designs, &promise);
    if (status != HF_OK || isnan(promise.looks.used))
        return hf_error_set(&request->error, status == HF_MEMORY ? status : HF_USAGE,
                            "content %g with confidence %g is too strict a promise for looks", cell->content,
                            cell->confidence);
    cell->confidence = promise.used;
    if (!goal.looks.given) return HF_OK;
    kept->looks = (hf_look_plan){goal.looks.parts, goal.looks.count, 0};
    cell->looks = &kept->looks;
    return HF_OK;
}

/* --- Shards ------------------------------------------------------------------------------------------ */

static hf_status read_shard(hf_request *request, hf_coverage_result *result) {
    const coverage_options *options = request->options;
    size_t numbers[2];
    result->shard = result->shards = 1;
    if (!options->shard.given) return HF_OK;
    if (request->argument_count > 0)
        return hf_error_set(&request->error, HF_USAGE, "--shard with files: expected one of the two");
    if (hf_numbers_read(options->shard.text, '/', numbers, 2) != 2 || numbers[0] < 1 ||
        numbers[0] > numbers[1])
        return hf_error_set(&request->error, HF_USAGE,
                            "--shard: found \"%.40s\", expected I/N with I from 1 to N, such as 2/4",
                            options->shard.text);
    result->shard = numbers[0];
    result->shards = numbers[1];
    return HF_OK;
}

/* All that shards of one study have alike: the options, as they were read. */
static const char *setting_of(const hf_request *request, const hf_coverage_cell *cell, double promised) {
    const coverage_options *o = request->options;
    return hf_arena_format(
        request->arena,
        "family %s, truth %s, n %zu, cv %.17g, content %.17g, confidence %.17g, ladder %s, step %.17g, "
        "offset %.17g, method %s, looks %s, best of %zu, batches %s, between %.17g, earlier %zu of %zu, "
        "apart "
        "%.17g, in steps of %.17g, replicates %zu, seed %llu",
        o->family.text, cell->truth->name, cell->n, cell->cv, cell->content, promised,
        hf_coverage_ladder_name(cell->ladder), cell->step, cell->offset, cell->method->name,
        o->looks.given ? o->looks.text : "none", cell->designs, o->batches.given ? o->batches.text : "none",
        cell->between_share, cell->past_designs, cell->past_parts, cell->past_apart, cell->past_step,
        cell->replicates, (unsigned long long)cell->seed);
}

static bool whole(const hf_json *object, const char *key, double *out) {
    const hf_json *node = object && object->kind == HF_JSON_OBJECT ? hf_json_get(object, key) : NULL;
    if (!node || node->kind != HF_JSON_NUMBER || node->number != floor(node->number)) return false;
    *out = node->number;
    return true;
}

/* One shard's file: adds its counts; *number and *of tell which it is. */
static hf_status add_file(hf_request *request, const char *path, hf_coverage_result *result, size_t *number,
                          size_t *of) {
    hf_text text = {0};
    const hf_json *root;
    double shard = 0, shards = 0, seen[5] = {0};
    hf_status status = hf_file_read(path, 1 << 20, &text, &request->error);
    const char *copy = status == HF_OK ? hf_arena_text(request->arena, text.bytes, text.length) : NULL;
    size_t length = text.length;
    hf_text_free(&text);
    if (status != HF_OK) return status;
    if (!copy) return hf_error_set(&request->error, HF_MEMORY, "out of memory");
    status = hf_json_parse(request->arena, path, copy, length, &root, &request->error);
    if (status != HF_OK) return status;
    const hf_json *counts = root->kind == HF_JSON_OBJECT ? hf_json_get(root, "counts") : NULL;
    const hf_json *setting = root->kind == HF_JSON_OBJECT ? hf_json_get(root, "setting") : NULL;
    static const char *const keys[] = {"replicates", "given", "right", "open", "margin"};
    bool good = whole(root, "shard", &shard) && whole(root, "shards", &shards) && setting &&
                setting->kind == HF_JSON_TEXT;
    for (size_t i = 0; good && i < 5; i++) good = whole(counts, keys[i], &seen[i]);
    if (!good || shard < 1 || shards < shard)
        return hf_error_set(&request->error, HF_BAD_DATA,
                            "%s: expected what coverage --shard I/N --json writes", path);
    if (strcmp(setting->text, result->setting) != 0)
        return hf_error_set(&request->error, HF_BAD_DATA,
                            "%s: made with \"%s\", expected \"%s\": give the same options", path,
                            setting->text, result->setting);
    *number = (size_t)shard;
    *of = (size_t)shards;
    hf_coverage_add(&result->counts,
                    &(hf_coverage_counts){(uint64_t)seen[0], (uint64_t)seen[1], (uint64_t)seen[2],
                                          (uint64_t)seen[3], (int64_t)seen[4]});
    return HF_OK;
}

/* Each shard of the study once: then the counts are those of one run. */
static hf_status merge(hf_request *request, hf_coverage_result *result) {
    const size_t count = request->argument_count;
    bool *met = HF_ARENA_NEW_ARRAY(request->arena, bool, count + 1);
    if (!met) return hf_error_set(&request->error, HF_MEMORY, "out of memory");
    for (size_t i = 0; i < count; i++) {
        const char *path = request->arguments[i];
        size_t shard = 0, shards = 0;
        hf_status status = add_file(request, path, result, &shard, &shards);
        if (status != HF_OK) return status;
        if (shards != count)
            return hf_error_set(&request->error, HF_BAD_DATA,
                                "%s: shard %zu of %zu, found %zu files, expected all %zu", path, shard,
                                shards, count, shards);
        if (met[shard])
            return hf_error_set(&request->error, HF_BAD_DATA, "%s: shard %zu again, expected each once", path,
                                shard);
        met[shard] = true;
    }
    return HF_OK;
}

static hf_status count_all(hf_request *request, hf_coverage_result *result) {
    if (request->argument_count > 0) {
        hf_status status = merge(request, result);
        if (status != HF_OK) return status;
    } else {
        hf_status status =
            hf_coverage_count(&result->cell, result->shard - 1, result->shards, &result->counts);
        if (status != HF_OK)
            return hf_error_set(&request->error, status == HF_RANGE ? HF_USAGE : status,
                                "this cell cannot be simulated: %s", hf_status_text(status));
    }
    hf_status status = hf_coverage_summary(&result->cell, &result->counts, &result->coverage);
    if (status == HF_OK) return status;
    return hf_error_set(&request->error, HF_USAGE,
                        "this shard has no samples: expected fewer shards or more --replicates");
}

static hf_exit run(hf_request *request) {
    const coverage_options *options = request->options;
    const hf_report_format *format;
    hf_coverage_result result = {.cell = cell_of(options)};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK ||
        hf_promise_read(&options->promise, &result.cell.content, &result.cell.confidence, &request->error) !=
            HF_OK)
        return hf_request_fail(request);
    if (!(result.cell.content > 0 && result.cell.confidence > 0)) {
        (void)hf_error_set(&request->error, HF_USAGE,
                           "expected both --content P and --confidence C, or --basis LETTER");
        return hf_request_fail(request);
    }
    if (!(result.cell.cv > 0)) {
        (void)hf_error_set(&request->error, HF_USAGE, "--cv: expected a scatter above 0 and at most 1");
        return hf_request_fail(request);
    }
    if (options->n.count == 1 && !options->earlier.count) {
        (void)hf_error_set(
            &request->error, HF_USAGE,
            "--n: found 1, expected 2 parts or more; one shows no scatter and needs --earlier");
        return hf_request_fail(request);
    }
    hf_parallel_set_threads((int)options->run.threads.count);
    result.promised = result.cell.confidence;
    cell_lists kept;
    if (read_doings(request, &kept, &result.cell) != HF_OK || read_shard(request, &result) != HF_OK)
        return hf_request_fail(request);
    result.setting = setting_of(request, &result.cell, result.promised);
    if (!result.setting || count_all(request, &result) != HF_OK) return hf_request_fail(request);
    hf_report_style style = hf_request_style(request, NULL);
    hf_text text = {0};
    hf_report_print(&hf_report_coverage, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {
    {.name = "SHARD",
     .is_path = true,
     .optional = true,
     .many = true,
     .help = "what --shard wrote with --json, all of one study: they are added up, with the same options"},
    {.name = NULL}};

#define OWN(field) .offset = offsetof(coverage_options, field)
static const hf_option own_rows[] = {
    {.name = "family",
     .type = HF_OPTION_CHOICE,
     .value_name = "FAMILY",
     .preset = "auto",
     .choice_at = hf_family_choice,
     .help = "law of the bound; auto is the governing rule",
     OWN(family)},
    {.name = "truth",
     .type = HF_OPTION_CHOICE,
     .value_name = "FAMILY",
     .choice_at = hf_law_choice,
     .help = "true law; by default that of the bound",
     OWN(truth)},
    {.name = "n",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 1,
     .maximum = 10000,
     .required = true,
     .help = "parts in each sample, 2 or more; 1 only with --earlier",
     OWN(n)},
    {.name = "cv",
     .type = HF_OPTION_NUMBER,
     .value_name = "V",
     .preset = "0.1",
     .maximum = 1,
     .help = "true scatter",
     OWN(cv)},
    {.name = "step-sd",
     .type = HF_OPTION_NUMBER,
     .value_name = "H",
     .preset = "0",
     .maximum = 100,
     .help = "step in standard deviations; 0 for continuous readings",
     OWN(step_sd)},
    {.name = "offset-sd",
     .type = HF_OPTION_NUMBER,
     .value_name = "O",
     .preset = "0",
     .minimum = -1000,
     .maximum = 1000,
     .help = "place of the ladder: one rung lies this far above the mean",
     OWN(offset_sd)},
    {.name = "ladder",
     .type = HF_OPTION_CHOICE,
     .value_name = "KIND",
     .preset = "working",
     .choice_at = ladder_choice,
     .help = "kind of ladder",
     OWN(ladder)},
    {.name = "replicates",
     .type = HF_OPTION_COUNT,
     .value_name = "R",
     .preset = "20000",
     .minimum = 8,
     .maximum = 1000000000,
     .help = "simulated samples",
     OWN(replicates)},
    {.name = "method",
     .type = HF_OPTION_CHOICE,
     .value_name = "M",
     .preset = "formula",
     .choice_at = method_choice,
     .help = "way to make the bound",
     OWN(method)},
    {.name = "looks",
     .type = HF_OPTION_TEXT,
     .value_name = "LIST",
     .help = "a bound at each of these numbers of parts, such as 5:10 or 5,10, each at "
             "the confidence that keeps the promise in all; the last is --n",
     OWN(looks)},
    {.name = "best-of",
     .type = HF_OPTION_COUNT,
     .value_name = "D",
     .preset = "1",
     .minimum = 1,
     .maximum = 100,
     .help = "so many designs are pulled and the one with the highest bound is picked",
     OWN(best_of)},
    {.name = "batches",
     .type = HF_OPTION_TEXT,
     .value_name = "LIST",
     .help = "parts of each batch, such as 5,5,5, --n in all: the lower of the batch bound "
             "and the law's",
     OWN(batches)},
    {.name = "between",
     .type = HF_OPTION_NUMBER,
     .value_name = "SHARE",
     .preset = "0.3",
     .maximum = 1,
     .help = "share of the variance between batches",
     OWN(between)},
    {.name = "earlier",
     .type = HF_OPTION_COUNT,
     .value_name = "J",
     .preset = "0",
     .maximum = 1000,
     .help = "the new design counts on the scatter of so many earlier ones",
     OWN(earlier)},
    {.name = "earlier-parts",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .preset = "5",
     .minimum = 2,
     .maximum = 1000,
     .help = "parts of each earlier design",
     OWN(earlier_parts)},
    {.name = "earlier-step",
     .type = HF_OPTION_NUMBER,
     .value_name = "H",
     .preset = "0",
     .maximum = 10,
     .help = "their step in standard deviations; 0 for continuous readings",
     OWN(earlier_step)},
    {.name = "apart",
     .type = HF_OPTION_NUMBER,
     .value_name = "T",
     .preset = "0.25",
     .maximum = 2,
     .help = "how far designs differ: standard deviation of the logarithm of their scatter",
     OWN(apart)},
    {.name = "shard",
     .type = HF_OPTION_TEXT,
     .value_name = "I/N",
     .help = "only shard I of N of the samples, for another machine; with --json",
     OWN(shard)},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_promise_rows, offsetof(coverage_options, promise)},
                                         {hf_format_rows, offsetof(coverage_options, format)},
                                         {hf_output_rows, offsetof(coverage_options, output)},
                                         {hf_run_rows, offsetof(coverage_options, run)},
                                         {hf_help_rows, offsetof(coverage_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast coverage --family normal --n 10 --content 0.90 --confidence 0.95 --step-sd 1",
     "does the bound keep its promise with steps of one standard deviation?"},
    {"holdfast coverage --family normal --n 10 --content 0.90 --confidence 0.95 --step-sd 1 --method "
     "failing_load",
     "and when the failing load is taken for the strength?"},
    {"holdfast coverage --n 10 --basis B --looks 5:10",
     "do the bounds after every part from 5 to 10 keep it together?"},
    {"holdfast coverage --n 3 --basis B --earlier 4 --apart 0.3",
     "three parts that count on four earlier designs which differ somewhat"},
    {"holdfast coverage --n 15 --basis B --batches 5,5,5 --between 0.5 --shard 2/4 --json -o 2.json",
     "a quarter of a study; the same options and all four files add it up"},
    {NULL, NULL}};

const hf_command hf_command_coverage = {
    .name = "coverage",
    .summary = "simulate the true confidence of a bound",
    .arguments = arguments,
    .description = "Pulls parts of a known law on a ladder in numbers, takes the bound, and counts how often "
                   "it keeps its promise. "
                   "The habits of the trade (failing load, last load held, middle as if exact) can be tried "
                   "beside the formula.",
    .groups = groups,
    .options_size = sizeof(coverage_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
