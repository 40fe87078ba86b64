/* Going in and out: campaign files in, results and messages out. */
#include "command/common.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/memory.h"
#include "command/terminal.h"
#include "platform/clock.h"

enum { WORDS_SIZE = 16384 }; /* three file names of the longest kind */

static hf_exit exit_of_status(hf_status status) {
    switch (status) {
    case HF_OK:
        return HF_EXIT_DONE;
    case HF_USAGE:
        return HF_EXIT_USAGE;
    case HF_BAD_DATA:
        return HF_EXIT_BAD_DATA;
    case HF_NO_RESULT:
    case HF_RANGE:
    case HF_NUMERIC:
        return HF_EXIT_NO_RESULT;
    case HF_MEMORY:
    case HF_FILE:
        break;
    }
    return HF_EXIT_FILE;
}

static void say_visible(const char *words, size_t length) {
    hf_text shown = {0};
    hf_text_add_visible(&shown, words, length, false);
    if (shown.length) fwrite(shown.bytes, 1, shown.length, stderr);
    hf_text_free(&shown);
}

static void say_list(const char *format, va_list arguments) {
    char words[WORDS_SIZE];
    int length = vsnprintf(words, sizeof words, format, arguments);
    if (length > 0) say_visible(words, strlen(words));
}

void hf_say(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    say_list(format, arguments);
    va_end(arguments);
}

void hf_request_note(const hf_request *request, const char *format, ...) {
    va_list arguments;
    hf_say("holdfast%s%s: ", request->command ? " " : "", request->command ? request->command->name : "");
    va_start(arguments, format);
    say_list(format, arguments);
    va_end(arguments);
    hf_say("\n");
}

bool hf_request_lacks_memory(const hf_request *request) {
    return hf_memory_refusals() != request->memory_refusals;
}

/* Whatever was found after memory had run out may be wrong, a mistake of the file too. The sentence itself needs no memory. */
static hf_exit lacks_memory(const hf_request *request) {
    fprintf(stderr, "holdfast%s%s: not enough memory for the whole answer, so none is given",
            request->command ? " " : "", request->command ? request->command->name : "");
    if (request->kept) hf_say("; all the same %s", request->kept);
    fprintf(stderr, "\n");
    return HF_EXIT_FILE;
}

hf_exit hf_request_fail(const hf_request *request) {
    const hf_error *error = &request->error;
    if (error->status == HF_MEMORY || hf_request_lacks_memory(request)) return lacks_memory(request);
    const char *message = error->message[0] ? error->message : hf_status_text(error->status);
    if (error->where.file && error->where.line)
        hf_say("%s:%zu:%zu: error: %s%s%s\n", error->where.file, error->where.line, error->where.column,
               error->where.path, error->where.path[0] ? ": " : "", message);
    else
        hf_request_note(request, "%s", message);
    return exit_of_status(error->status);
}

void hf_request_note_names(const hf_request *request, const char *path, size_t names) {
    if (names < 2) return;
    hf_request_note(request, "%s had %zu names (hard links): only this one leads to the new text, %s the old",
                    path, names, names == 2 ? "the other keeps" : "the others keep");
}

hf_exit hf_findings_print(const hf_request *request, const hf_findings *findings, const char *file) {
    hf_text lines = {0};
    for (size_t i = 0; i < findings->count; i++) hf_finding_print(&findings->items[i], file, &lines);
    bool whole = !hf_request_lacks_memory(request);
    if (whole && lines.length) say_visible(lines.bytes, lines.length);
    hf_text_free(&lines);
    if (!whole) return lacks_memory(request);
    return findings->errors ? HF_EXIT_BAD_DATA : HF_EXIT_DONE;
}

hf_exit hf_request_campaign(hf_request *request, const char *path, const hf_campaign **campaign,
                            hf_findings *findings) {
    const char *shown = strcmp(path, "-") == 0 ? "standard input" : path;
    request->error.status = hf_campaign_read(request->arena, path, campaign, findings, &request->error);
    hf_exit code = hf_findings_print(request, findings, shown);
    if (code != HF_EXIT_DONE || request->error.status == HF_OK) return code;
    return hf_request_fail(request);
}

bool hf_request_in_place(hf_request *request) {
    if (strcmp(request->arguments[0], "-") != 0) return true;
    hf_error_set(&request->error, HF_USAGE, "found - for FILE, expected a file: %s changes it in place",
                 request->command->name);
    return false;
}

hf_campaign_change hf_request_change(hf_request *request, const char *path, hf_campaign_edit *edit,
                                     void *context) {
    char now[26];
    hf_platform_now(now);
    return (hf_campaign_change){.path = path,
                                .at = hf_arena_text(request->arena, now, strlen(now)),
                                .command = hf_request_line(request),
                                .edit = edit,
                                .context = context};
}

hf_exit hf_request_study(hf_request *request, const char *path, const hf_study_options *options,
                         const hf_study **out) {
    const hf_campaign *campaign;
    hf_findings *findings = HF_ARENA_NEW(request->arena, hf_findings);
    if (!findings) {
        hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
        return hf_request_fail(request);
    }
    hf_exit code = hf_request_campaign(request, path, &campaign, findings);
    if (code != HF_EXIT_DONE) return code;
    request->error.status = hf_study_of(request->arena, campaign, findings, options, out, &request->error);
    return request->error.status == HF_OK ? HF_EXIT_DONE : hf_request_fail(request);
}

hf_exit hf_request_comparison(hf_request *request, const char *path, const hf_study_options *options,
                              const hf_study **out) {
    hf_exit code = hf_request_study(request, path, options, out);
    if (code != HF_EXIT_DONE || (*out)->comparison) return code;
    request->error = (*out)->no_comparison;
    return hf_request_fail(request);
}

hf_exit hf_exit_of_answers(const hf_assessment *assessment, bool strict) {
    if (!assessment->any_result) return HF_EXIT_NO_RESULT;
    hf_met worst_good = strict ? HF_MET : HF_MET_IF;
    return assessment->met <= worst_good ? HF_EXIT_DONE : HF_EXIT_NOT_MET;
}

/* The value of an option that not every command has. */
static const hf_option_value *optional_value(const hf_request *request, const char *name) {
    bool known = hf_command_option_find(request->command, name, NULL) != NULL;
    return known ? hf_request_value(request, name) : NULL;
}

static const char *output_path(const hf_request *request) {
    const hf_option_value *output = optional_value(request, "output");
    return output && output->given && strcmp(output->text, "-") != 0 ? output->text : NULL;
}

static hf_strip_marks strip_of(const hf_request *request) {
    const hf_option_value *ascii = optional_value(request, "ascii");
    const hf_terminal *terminal = request->terminal;
    const hf_option_value *format = optional_value(request, "format"),
                          *json = optional_value(request, "json");
    bool text = format && strcmp(format->text, "text") == 0 && !json->given;
    if (!ascii || !text || !terminal->output || output_path(request) || terminal->width < HF_STRIP_WIDTH)
        return HF_STRIP_NONE;
    return ascii->given ? HF_STRIP_ASCII : HF_STRIP_BLOCKS;
}

hf_report_style hf_request_style(const hf_request *request, const hf_campaign *campaign) {
    const hf_option_value *unit = optional_value(request, "unit");
    const hf_option_value *color = optional_value(request, "color");
    hf_report_style style = {.unit = campaign ? campaign->unit : hf_unit_find("N", 1),
                             .gravity = campaign ? campaign->gravity : HF_GRAVITY_STANDARD,
                             .width = request->terminal->width};
    if (unit && unit->given) style.unit = hf_unit_find(unit->text, strlen(unit->text));
    if (color) style.color = hf_terminal_color(request->terminal, color->text, output_path(request) != NULL);
    style.strip = strip_of(request);
    return style;
}

/* The file name that an example of this command writes to. */
static void add_example_output(const hf_command *command, hf_text *out) {
    for (const hf_example *example = command->examples; example->line; example++) {
        const char *option = strstr(example->line, " -o ");
        if (!option) continue;
        hf_text_add_bytes(out, option + 4, strcspn(option + 4, " "));
        return;
    }
    hf_text_add(out, "result.txt");
}

static hf_status refuse_output(hf_request *request, const char *path, const char *why) {
    hf_text other = {0};
    add_example_output(request->command, &other);
    (void)hf_error_set(&request->error, HF_USAGE,
                       "option --output: %s %s and would be lost; expected another file, such as -o %s", path,
                       why, other.bytes ? other.bytes : "result.txt");
    hf_text_free(&other);
    return HF_USAGE;
}

hf_status hf_request_check_output(hf_request *request) {
    const char *path = output_path(request);
    if (!path || !hf_file_exists(path)) return HF_OK;
    const hf_argument *row = request->command->arguments;
    for (size_t i = 0; i < request->argument_count && row->name; i++) {
        if (row->is_path && strcmp(request->arguments[i], "-") != 0 &&
            hf_file_same(path, request->arguments[i]))
            return refuse_output(request, path, "is a file that this command reads");
        row += !row->many;
    }
    if (hf_campaign_is_at(path)) return refuse_output(request, path, "holds a campaign");
    if (hf_campaign_is_locked_by(path)) return refuse_output(request, path, "is the journal of a campaign");
    return HF_OK;
}

static hf_status put_output(hf_request *request, const hf_text *text, const char *path) {
    size_t names = path ? hf_file_names(path) : 0;
    hf_text shown = {0};
    bool to_terminal = !path && request->terminal->output;
    bool colors = hf_command_option_find(request->command, "color", NULL) != NULL;
    if (to_terminal) hf_text_add_visible(&shown, text->bytes ? text->bytes : "", text->length, colors);
    const hf_text *out = to_terminal ? &shown : text;
    hf_status status = out->failed || hf_request_lacks_memory(request)
                           ? hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY))
                           : hf_file_replace(path ? path : "-", out->bytes, out->length, &request->error);
    hf_text_free(&shown);
    if (status == HF_OK && path) hf_request_note_names(request, path, names);
    return status;
}

/* The output is gone, but not what was done before. */
static void add_kept(hf_request *request) {
    char message[HF_MESSAGE_SIZE];
    if (!request->kept) return;
    memcpy(message, request->error.message, sizeof message);
    (void)hf_error_set(&request->error, request->error.status, "%s; all the same %s", message, request->kept);
}

/* The name of a file without its folders and .json. */
static const char *stem_of(hf_arena *arena, const char *path) {
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
    size_t length = strlen(name), json = strlen(".json");
    if (length > json && strcmp(name + length - json, ".json") == 0) length -= json;
    return strcmp(path, "-") == 0 ? "holdfast" : hf_arena_text(arena, name, length);
}

hf_status hf_request_name_output(hf_request *request, const char *path, const char *kind,
                                 const char *extension) {
    hf_option_value *output = hf_request_value(request, "output");
    if (output->given || !request->terminal->output) return HF_OK;
    const char *stem = stem_of(request->arena, path), *dash = *kind ? "-" : "";
    for (size_t at = 1; stem; at++) {
        const char *name =
            at == 1 ? hf_arena_format(request->arena, "%s%s%s.%s", stem, dash, kind, extension)
                    : hf_arena_format(request->arena, "%s%s%s-%zu.%s", stem, dash, kind, at, extension);
        if (!name) break;
        if (hf_file_exists(name)) continue;
        *output = (hf_option_value){.given = true, .text = name};
        request->named = name;
        return HF_OK;
    }
    return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
}

/* The target is looked at once more: it may have come to be while the result was computed. */
hf_exit hf_request_write(hf_request *request, hf_text *text, hf_exit code) {
    hf_status status = hf_request_check_output(request);
    if (status == HF_OK) status = put_output(request, text, output_path(request));
    request->error.status = status;
    if (status != HF_OK) add_kept(request);
    if (status == HF_OK && request->named) hf_request_note(request, "wrote %s", request->named);
    hf_text_free(text);
    return status == HF_OK ? code : hf_request_fail(request);
}
