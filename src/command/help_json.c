/* The records as data. */
#include "holdfast/base/json.h"
#include "holdfast/command/help.h"

static const char *const types[] = {"flag", "text", "number", "count", "load", "choice", "path"};

static void add_arguments(hf_json_writer *json, const hf_command *command) {
    hf_json_open_array(json, "arguments");
    for (const hf_argument *row = command->arguments; row && row->name; row++) {
        hf_json_open_object(json, NULL);
        hf_json_add_text(json, "name", row->name);
        hf_json_add_text(json, "help", row->help);
        hf_json_add_bool(json, "optional", row->optional);
        hf_json_add_bool(json, "many", row->many);
        hf_json_add_bool(json, "path", row->is_path);
        hf_json_close(json, false);
    }
    hf_json_close(json, true);
}

static void add_option(hf_json_writer *json, const hf_option *row) {
    char letter[2] = {row->letter, '\0'};
    hf_json_open_object(json, NULL);
    hf_json_add_text(json, "name", row->name);
    if (row->letter) hf_json_add_text(json, "letter", letter);
    hf_json_add_text(json, "type", types[row->type]);
    if (row->value_name) hf_json_add_text(json, "value", row->value_name);
    if (row->preset) hf_json_add_text(json, "default", row->preset);
    if (row->minimum < row->maximum) {
        hf_json_add_number(json, "minimum", row->minimum);
        hf_json_add_number(json, "maximum", row->maximum);
        hf_json_add_bool(json, "open_ends", row->open_ends);
    }
    if (hf_option_choice(row, 0)) {
        hf_json_open_array(json, "choices");
        for (size_t at = 0; hf_option_choice(row, at); at++)
            hf_json_add_text(json, NULL, hf_option_choice(row, at));
        hf_json_close(json, true);
    }
    hf_json_add_bool(json, "required", row->required);
    hf_json_add_text(json, "help", row->help);
    hf_json_close(json, false);
}

static void add_options(hf_json_writer *json, const hf_command *command) {
    const hf_option *row;
    hf_json_open_array(json, "options");
    for (size_t at = 0; (row = hf_command_option(command, at, NULL)) != NULL; at++)
        if (!row->hidden) add_option(json, row);
    hf_json_close(json, true);
}

static void add_examples(hf_json_writer *json, const hf_command *command) {
    hf_json_open_array(json, "examples");
    for (const hf_example *row = command->examples; row && row->line; row++) {
        hf_json_open_object(json, NULL);
        hf_json_add_text(json, "line", row->line);
        hf_json_add_text(json, "does", row->does);
        hf_json_close(json, false);
    }
    hf_json_close(json, true);
}

static void add_exits(hf_json_writer *json, const hf_command *command) {
    hf_json_open_array(json, "exits");
    for (int code = 0; code < HF_EXIT_COUNT; code++) {
        if (!(command->exits & HF_EXIT_BIT(code))) continue;
        hf_json_open_object(json, NULL);
        hf_json_add_count(json, "code", (size_t)code);
        hf_json_add_text(json, "meaning", hf_exit_text((hf_exit)code));
        hf_json_close(json, false);
    }
    hf_json_close(json, true);
}

void hf_help_json(const hf_command *const *commands, hf_text *out) {
    hf_json_writer json;
    hf_json_writer_start(&json, out);
    hf_json_open_object(&json, NULL);
    hf_json_add_text(&json, "format", "holdfast-help/1");
    hf_json_open_array(&json, "commands");
    for (size_t at = 0; commands[at]; at++) {
        const hf_command *command = commands[at];
        hf_json_open_object(&json, NULL);
        hf_json_add_text(&json, "name", command->name);
        hf_json_add_text(&json, "summary", command->summary);
        hf_json_add_text(&json, "description", command->description);
        add_arguments(&json, command);
        add_options(&json, command);
        add_examples(&json, command);
        add_exits(&json, command);
        hf_json_close(&json, false);
    }
    hf_json_close(&json, true);
    hf_json_close(&json, false);
}
