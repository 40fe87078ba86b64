/* Going in and out: campaign files in, results and messages out. */
#include "command/common.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/base/file.h"
#include "command/terminal.h"

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

hf_exit hf_request_fail(const hf_request *request) {
    const hf_error *error = &request->error;
    const char *message = error->message[0] ? error->message : hf_status_text(error->status);
    if (error->where.file && error->where.line) {
        fprintf(stderr, "%s:%zu:%zu: error: %s%s%s\n", error->where.file, error->where.line,
                error->where.column, error->where.path, error->where.path[0] ? ": " : "", message);
    } else if (request->command) {
        fprintf(stderr, "holdfast %s: %s\n", request->command->name, message);
    } else {
        fprintf(stderr, "holdfast: %s\n", message);
    }
    return exit_of_status(error->status);
}

hf_exit hf_findings_print(const hf_findings *findings, const char *file) {
    hf_text lines = {0};
    for (size_t i = 0; i < findings->count; i++) hf_finding_print(&findings->items[i], file, &lines);
    if (lines.length) fwrite(lines.bytes, 1, lines.length, stderr);
    hf_text_free(&lines);
    return findings->errors ? HF_EXIT_BAD_DATA : HF_EXIT_DONE;
}

hf_exit hf_request_campaign(hf_request *request, const char *path, const hf_campaign **campaign,
                            hf_findings *findings) {
    const char *shown = strcmp(path, "-") == 0 ? "standard input" : path;
    request->error.status = hf_campaign_read(request->arena, path, campaign, findings, &request->error);
    hf_exit code = hf_findings_print(findings, shown);
    if (code != HF_EXIT_DONE || request->error.status == HF_OK) return code;
    return hf_request_fail(request);
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

hf_exit hf_exit_of_answers(const hf_assessment *assessment) {
    if (!assessment->any_result) return HF_EXIT_NO_RESULT;
    return assessment->all_met ? HF_EXIT_DONE : HF_EXIT_NOT_MET;
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

hf_report_style hf_request_style(const hf_request *request, const hf_campaign *campaign) {
    const hf_option_value *unit = optional_value(request, "unit");
    const hf_option_value *color = optional_value(request, "color");
    hf_report_style style = {.unit = campaign ? campaign->unit : hf_unit_find("N", 1),
                             .gravity = campaign ? campaign->gravity : HF_GRAVITY_STANDARD,
                             .width = request->terminal->width};
    if (unit && unit->given) style.unit = hf_unit_find(unit->text, strlen(unit->text));
    if (color) style.color = hf_terminal_color(request->terminal, color->text, output_path(request) != NULL);
    return style;
}

hf_exit hf_request_write(hf_request *request, hf_text *text, hf_exit code) {
    const char *path = output_path(request);
    hf_status status;
    if (text->failed) {
        status = hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    } else {
        status = hf_file_replace(path ? path : "-", text->bytes, text->length, &request->error);
        request->error.status = status;
    }
    hf_text_free(text);
    return status == HF_OK ? code : hf_request_fail(request);
}
