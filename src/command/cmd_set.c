#include "command/commands.h"
#include "command/common.h"

#include <string.h>
#include "holdfast/campaign/set.h"
#include "holdfast/load/unit.h"

typedef struct set_options {
    hf_option_value design, clear;
    hf_format_values format;
    hf_help_values help;
} set_options;

#define VALUE(member) .offset = offsetof(set_options, member)

static const hf_option own_rows[] = {
    {.name = "design",
     .type = HF_OPTION_TEXT,
     .value_name = "ID",
     .help = "set keys of this design, not of the file",
     VALUE(design)},
    {.name = "clear", .help = "take the keys away, which then have no values behind them", VALUE(clear)},
    {.name = NULL}};

typedef struct set_work {
    hf_request *request;
    const hf_setting *settings;
    size_t count;
    hf_findings refused;
} set_work;

static const char *design_of(const hf_request *request) {
    const set_options *options = request->options;
    return options->design.given ? options->design.text : NULL;
}

/* Without anything to set: what can be set, and how it stands. */
static hf_exit list_keys(hf_request *request, const hf_report_format *format) {
    const hf_campaign *campaign;
    hf_findings findings = {0};
    hf_settable key;
    hf_text text = {0};
    const char *design = design_of(request);
    hf_exit code = hf_request_campaign(request, request->arguments[0], &campaign, &findings);
    if (code != HF_EXIT_DONE) return code;
    if (design && !hf_campaign_find_design(campaign, design, &request->error))
        return hf_request_fail(request);
    size_t most = 0, count = 0;
    while (hf_settable_at(most, &key)) most++;
    hf_setting_now *keys = HF_ARENA_NEW_ARRAY(request->arena, hf_setting_now, most);
    for (size_t at = 0; keys && hf_settable_at(at, &key); at++)
        if (design ? key.of_design : key.of_file)
            keys[count++] =
                (hf_setting_now){hf_arena_format(request->arena, "%s", key.name),
                                 hf_campaign_value(request->arena, campaign, design, key.name), key.takes};
    const hf_settings_result result = {campaign, keys, count};
    hf_report_style style = hf_request_style(request, campaign);
    hf_report_print(&hf_report_settings, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

/* A comma can be a decimal mark where a number or a load is wanted, and nothing else: as in an option. */
static const char *plain(hf_request *request, const char *name, const char *value, const char *unit) {
    static const hf_option load = {.name = "value", .type = HF_OPTION_LOAD},
                           number = {.name = "value", .type = HF_OPTION_NUMBER};
    hf_settable key;
    if (!hf_settable_find(name, design_of(request) != NULL, &key)) return value;
    bool numeric = strncmp(key.takes, "a number", 8) == 0 || strncmp(key.takes, "a share", 7) == 0;
    if (numeric && strchr(value, '%')) return value;
    return key.load || numeric ? hf_option_plain(request->arena, key.load ? &load : &number, value, unit)
                               : value;
}

static hf_status read_settings(hf_request *request, hf_setting *settings, size_t *count) {
    const set_options *options = request->options;
    const char *const *words = request->arguments;
    hf_settable key;
    *count = 0;
    for (size_t i = 1; i < request->argument_count; i++) {
        hf_setting *one = &settings[(*count)++];
        one->name = words[i];
        one->value = NULL;
        if (options->clear.given) continue;
        if (i + 1 == request->argument_count)
            return hf_error_set(&request->error, HF_USAGE,
                                "%s: no value behind it, expected KEY VALUE; --clear takes a key away",
                                words[i]);
        const char *value = words[++i], *unit = NULL;
        bool load = hf_settable_find(one->name, design_of(request) != NULL, &key) && key.load;
        bool bare = strspn(value, "+-.,0123456789eE") == strlen(value);
        if (load && bare && i + 1 < request->argument_count &&
            hf_unit_find(words[i + 1], strlen(words[i + 1])))
            unit = words[++i];
        one->value = plain(request, one->name, value, unit);
        if (!one->value) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    }
    return HF_OK;
}

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    set_work *work = context;
    hf_request *request = work->request;
    const char *design = design_of(request);
    if (design && !hf_campaign_find_design(now, design, error)) return error->status;
    const hf_settings settings = {design, work->settings, work->count};
    return hf_campaign_set(request->arena, now, &settings, text, &work->refused, error);
}

static hf_exit show(hf_request *request, const set_work *work, const hf_campaign_change *change,
                    const hf_report_format *format) {
    hf_field_change *list = HF_ARENA_NEW_ARRAY(request->arena, hf_field_change, work->count);
    hf_text text = {0};
    for (size_t i = 0; list && i < work->count; i++)
        list[i] = (hf_field_change){
            "", work->settings[i].name,
            hf_campaign_value(request->arena, change->before, design_of(request), work->settings[i].name),
            hf_campaign_value(request->arena, change->after, design_of(request), work->settings[i].name)};
    const hf_set_result result = {change->after, list, list ? work->count : 0};
    hf_report_style style = hf_request_style(request, change->after);
    hf_report_print(&hf_report_set, &result, format, &style, &text);
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static hf_exit run(hf_request *request) {
    const set_options *options = request->options;
    const hf_report_format *format;
    const char *path = request->arguments[0];
    hf_setting *settings = HF_ARENA_NEW_ARRAY(request->arena, hf_setting, request->argument_count);
    set_work work = {.request = request, .settings = settings};
    if (hf_format_read(&options->format, &format, &request->error) != HF_OK) return hf_request_fail(request);
    if (request->argument_count == 1) return list_keys(request, format);
    if (!settings) hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (!hf_request_in_place(request) || request->error.status != HF_OK ||
        read_settings(request, settings, &work.count) != HF_OK)
        return hf_request_fail(request);
    hf_campaign_change change = hf_request_change(request, path, edit, &work);
    request->error.status = hf_campaign_change_make(request->arena, &change, &request->error);
    if (request->error.status == HF_OK) {
        hf_request_note_names(request, path, change.names);
        request->kept = hf_arena_format(request->arena, "the keys are set in %s", path);
        return show(request, &work, &change, format);
    }
    for (size_t i = 0; i < work.refused.count; i++)
        if (work.refused.items[i].severity == HF_SEVERITY_ERROR)
            hf_request_note(request, "%s: %s", work.refused.items[i].path, work.refused.items[i].message);
    if (work.refused.errors && !hf_request_lacks_memory(request)) return HF_EXIT_BAD_DATA;
    if (change.findings.errors) return hf_findings_print(request, &change.findings, path);
    return hf_request_fail(request);
}

static const hf_argument arguments[] = {
    {.name = "FILE", .is_path = true, .help = "campaign file; it is changed in place"},
    {.name = "KEY VALUE",
     .optional = true,
     .many = true,
     .help = "key as it stands in the file, such as goal.design_factor, and its value; several pairs are set "
             "together; without any, "
             "all keys are listed with their values"},
    {.name = NULL}};

static const hf_option_group groups[] = {{own_rows, 0},
                                         {hf_format_rows, offsetof(set_options, format)},
                                         {hf_help_rows, offsetof(set_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {
    {"holdfast set sail.json goal.service_load 80kg goal.design_factor 4",
     "what the part has to carry, and the factor"},
    {"holdfast set sail.json --design ring guess.mean 900N guess.cv 12%", "what is expected of one design"},
    {"holdfast set sail.json weights \"6x10kg 2x5kg\" rig.uncertainty \"weights 3% tolerance; tare 0.1kg "
     "standard\"",
     "the weights there are, and how wrong the loads may be"},
    {"holdfast set sail.json --design ring scatter.cv 12% scatter.degrees_of_freedom 14 scatter.source \"14 "
     "rings of spring\"",
     "keys that need each other are set together"},
    {"holdfast set sail.json", "lists what can be set and how it stands"},
    {NULL, NULL}};

const hf_command hf_command_set = {
    .name = "set",
    .summary = "set keys of the campaign file: goal, rig, weights, guess",
    .arguments = arguments,
    .description = "Sets keys by the names that they have in the file, so that nobody has to edit it. The "
                   "value is read and checked as the file "
                   "would be, every other byte stays, and what was is shown beside what is now; holdfast "
                   "undo takes it back. Loads may carry their "
                   "unit (80kg, \"80 kg\" or 80 kg); shares may be per cent.\n\n"
                   "Lists are written as people say them: weights as \"6x10kg 2x5kg\", rig.uncertainty as "
                   "\"weights 3% tolerance; tare 0.1kg "
                   "standard\", goal.use_factors as \"wet 1.2; ageing 1.3\", goal.looks as 5,10. info.NAME "
                   "and rig.info.NAME take any text.",
    .groups = groups,
    .options_size = sizeof(set_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_BAD_DATA) |
             HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
