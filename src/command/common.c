#include "command/common.h"

#include <string.h>

const char *hf_law_choice(size_t at) {
    const hf_family *family = hf_family_at(at);
    return family ? family->name : NULL;
}

const char *hf_proven_choice(size_t at) {
    const hf_family *family = hf_family_governing_at(at);
    return family ? family->name : NULL;
}

const char *hf_family_choice(size_t at) {
    return at == 0 ? "auto" : hf_proven_choice(at - 1);
}

void hf_law_read(const hf_option_value *option, const hf_family **family, bool *by_rule) {
    *family = option->text ? hf_family_find(option->text) : NULL;
    *by_rule = option->text && !*family;
}

static const char *format_choice(size_t at) {
    size_t count;
    const hf_report_format *table = hf_report_format_table(&count);
    return at < count ? table[at].name : NULL;
}

const char *hf_unit_choice(size_t at) {
    size_t count;
    const hf_unit *table = hf_unit_table(&count);
    return at < count ? table[at].name : NULL;
}

static const char *const color_choices[] = {"auto", "always", "never", NULL};
static const char *const basis_choices[] = {"A", "B", NULL};

#define SHARED(type, member) .offset = offsetof(type, member)

const hf_option hf_help_rows[] = {{.name = "help",
                                   .letter = 'h',
                                   .help = "show this help and do nothing else",
                                   SHARED(hf_help_values, help)},
                                  {.name = NULL}};

const hf_option hf_format_rows[] = {
    {.name = "json", .help = "the same as --format json", SHARED(hf_format_values, json)},
    {.name = "format",
     .type = HF_OPTION_CHOICE,
     .value_name = "FORMAT",
     .preset = "text",
     .choice_at = format_choice,
     .help = "how the result is written",
     SHARED(hf_format_values, format)},
    {.name = "color",
     .type = HF_OPTION_CHOICE,
     .value_name = "WHEN",
     .preset = "auto",
     .choices = color_choices,
     .help = "colours in text",
     SHARED(hf_format_values, color)},
    {.name = NULL}};

const hf_option hf_output_rows[] = {
    {.name = "output",
     .letter = 'o',
     .type = HF_OPTION_PATH,
     .value_name = "FILE",
     .help = "write to FILE instead of standard output; an existing file is replaced in one step",
     SHARED(hf_output_values, output)},
    {.name = NULL}};

const hf_option hf_strip_rows[] = {{.name = "ascii",
                                    .help = "at a terminal, draw the strip of pulls in plain characters",
                                    SHARED(hf_strip_values, ascii)},
                                   {.name = NULL}};

const hf_option hf_unit_rows[] = {{.name = "unit",
                                   .type = HF_OPTION_CHOICE,
                                   .value_name = "UNIT",
                                   .choice_at = hf_unit_choice,
                                   .help = "unit of all loads shown; the file's own when not given",
                                   SHARED(hf_unit_values, unit)},
                                  {.name = NULL}};

const hf_option hf_subject_rows[] = {{.name = "design",
                                      .type = HF_OPTION_TEXT,
                                      .value_name = "ID",
                                      .help = "only the design with this id; all of them when not given",
                                      SHARED(hf_subject_values, design)},
                                     {.name = "family",
                                      .type = HF_OPTION_CHOICE,
                                      .value_name = "FAMILY",
                                      .choice_at = hf_family_choice,
                                      .help = "strength law that governs, the file's when not given",
                                      SHARED(hf_subject_values, family)},
                                     {.name = NULL}};

const hf_option hf_promise_rows[] = {
    {.name = "content",
     .type = HF_OPTION_NUMBER,
     .value_name = "P",
     .maximum = 1,
     .open_ends = true,
     .help = "share of all parts that is to be stronger than the bound",
     SHARED(hf_promise_values, content)},
    {.name = "confidence",
     .type = HF_OPTION_NUMBER,
     .value_name = "C",
     .maximum = 1,
     .open_ends = true,
     .help = "confidence of that statement",
     SHARED(hf_promise_values, confidence)},
    {.name = "basis",
     .type = HF_OPTION_CHOICE,
     .value_name = "LETTER",
     .choices = basis_choices,
     .help = "short for content and confidence: A is 0.99 with 0.95 (a single load path), B is 0.90 with "
             "0.95 (a redundant one)",
     SHARED(hf_promise_values, basis)},
    {.name = NULL}};

const hf_option hf_full_rows[] = {
    {.name = "full",
     .help = "the whole text, with every table, test and caution in words; JSON is always whole",
     SHARED(hf_full_values, on)},
    {.name = NULL}};

const hf_option hf_strict_rows[] = {
    {.name = "strict",
     .help =
         "exit with 1 also where a requirement is met only if something holds that these pulls cannot check",
     SHARED(hf_strict_values, on)},
    {.name = NULL}};

const hf_option hf_verdict_rows[] = {
    {.name = "same-within",
     .type = HF_OPTION_NUMBER,
     .value_name = "PERCENT",
     .maximum = 900,
     .open_ends = true,
     .help = "call two designs the same when their ratio surely lies within this many per cent",
     SHARED(hf_verdict_values, same_within)},
    {.name = "level",
     .type = HF_OPTION_NUMBER,
     .value_name = "A",
     .preset = "0.05",
     .maximum = 0.5,
     .open_ends = true,
     .help = "chance to see a difference between two designs where there is none; intervals hold with 1 − A",
     SHARED(hf_verdict_values, level)},
    {.name = "choose-best",
     .help = "the design that comes out best of all these is picked: take every bound at a confidence that "
             "keeps the "
             "promise whichever it is",
     SHARED(hf_verdict_values, choose_best)},
    {.name = NULL}};

double hf_same_within(const hf_verdict_values *values) {
    return values->same_within.given ? values->same_within.number / 100 : 0;
}

const hf_option hf_run_rows[] = {
    {.name = "seed",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .preset = "1",
     .maximum = 4294967295.0,
     .help = "start of the random numbers of simulated tests",
     SHARED(hf_run_values, seed)},
    {.name = "threads",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .preset = "0",
     .maximum = 1024,
     .help = "threads to work with, 0 for as many as there are cores; the result is the same",
     SHARED(hf_run_values, threads)},
    {.name = NULL}};

hf_status hf_promise_read(const hf_promise_values *values, double *content, double *confidence,
                          hf_error *error) {
    *content = values->content.given ? values->content.number : 0;
    *confidence = values->confidence.given ? values->confidence.number : 0;
    if (!values->basis.given) return HF_OK;
    if (values->content.given || values->confidence.given)
        return hf_error_set(error, HF_USAGE,
                            "option --basis already says content and confidence; expected it "
                            "without --content and --confidence");
    *content = strcmp(values->basis.text, "A") == 0 ? 0.99 : 0.90;
    *confidence = 0.95;
    return HF_OK;
}

hf_status hf_format_read(const hf_format_values *values, const hf_report_format **format, hf_error *error) {
    const char *name = values->format.text;
    if (values->json.given) {
        if (values->format.given && strcmp(name, "json") != 0)
            return hf_error_set(error, HF_USAGE,
                                "option --json contradicts --format %s, expected one of them", name);
        name = "json";
    }
    *format = hf_report_format_find(name);
    return HF_OK;
}

/* A word as a shell takes it: in single quotes unless it is plain. */
static void add_word(hf_text *line, const char *word) {
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./,:=+";
    hf_text_add(line, " ");
    if (word[0] && strspn(word, plain) == strlen(word)) {
        hf_text_add(line, word);
        return;
    }
    hf_text_add(line, "'");
    for (; *word; word++) hf_text_add_bytes(line, *word == '\'' ? "'\\''" : word, *word == '\'' ? 4 : 1);
    hf_text_add(line, "'");
}

const char *hf_request_line(hf_request *request) {
    hf_text line = {0};
    const hf_option *option;
    hf_text_addf(&line, "holdfast %s", request->command->name);
    for (size_t i = 0; i < request->argument_count; i++) add_word(&line, request->arguments[i]);
    for (size_t at = 0; (option = hf_command_option(request->command, at, NULL)) != NULL; at++) {
        const hf_option_value *value = hf_request_value(request, option->name);
        bool changes_nothing = strcmp(option->name, "threads") == 0 || strcmp(option->name, "output") == 0;
        if (!value->given || changes_nothing) continue;
        hf_text_addf(&line, " --%s", option->name);
        if (option->type != HF_OPTION_FLAG) add_word(&line, value->text);
    }
    const char *kept = line.bytes ? hf_arena_text(request->arena, line.bytes, line.length) : NULL;
    hf_text_free(&line);
    return kept;
}
