/* docs/commands.md. */
#include "holdfast/command/help.h"

#include <ctype.h>
#include <string.h>
#include "command/program.h"

/* A cell of a table: a bar would end it. */
static void add_cell(const char *words, hf_text *out) {
    for (; *words; words++) {
        if (*words == '|') hf_text_add(out, "\\");
        hf_text_add_bytes(out, words, 1);
    }
}

static void add_row(const char *label, const char *words, hf_text *out) {
    hf_text_addf(out, "| `%s` | ", label);
    add_cell(words, out);
    hf_text_add(out, " |\n");
}

static void add_arguments(const hf_command *command, hf_text *out) {
    if (!command->arguments[0].name) return;
    hf_text_add(out, "\n| word | meaning |\n| --- | --- |\n");
    for (const hf_argument *row = command->arguments; row->name; row++) add_row(row->name, row->help, out);
}

static void add_options(const hf_command *command, hf_text *out) {
    const hf_option *option;
    hf_text_add(out, "\n| option | meaning |\n| --- | --- |\n");
    for (size_t at = 0; (option = hf_command_option(command, at, NULL)) != NULL; at++) {
        hf_text label = {0}, words = {0};
        if (option->hidden) continue;
        hf_program_option_label(option, &label);
        hf_option_describe(option, &words);
        if (label.failed || words.failed)
            out->failed = true;
        else
            add_row(label.bytes, words.bytes, out);
        hf_text_free(&label);
        hf_text_free(&words);
    }
}

static void add_exits(const hf_command *command, hf_text *out) {
    hf_text_add(out, "\nExit codes:");
    const char *glue = " ";
    for (int code = 0; code < HF_EXIT_COUNT; code++) {
        if (!(command->exits & HF_EXIT_BIT(code))) continue;
        hf_text_addf(out, "%s%d", glue, code);
        glue = ", ";
    }
    hf_text_add(out, ".\n");
}

static void add_command(const hf_command *command, hf_text *out) {
    const char *start;
    size_t length;
    hf_text_addf(out, "\n## %s\n\n%c%s:\n\n    ", command->name, toupper((unsigned char)command->summary[0]),
                 command->summary + 1);
    hf_help_synopsis(command, out);
    hf_text_add(out, "\n");
    for (size_t at = 0; hf_program_paragraph(command->description, at, &start, &length); at++) {
        hf_text_add(out, "\n");
        hf_text_add_bytes(out, start, length);
        hf_text_add(out, "\n");
    }
    add_arguments(command, out);
    add_options(command, out);
    for (const hf_example *example = command->examples; example->line; example++)
        hf_text_addf(out, "\nExample: %s.\n\n    %s\n", example->does, example->line);
    add_exits(command, out);
}

void hf_help_markdown(const hf_command *const *commands, hf_text *out) {
    hf_text_add(out,
                "# Commands\n\nMade by `holdfast help --markdown` from the records in src/command; change "
                "them there.\n");
    for (size_t i = 0; hf_program_description[i]; i++) hf_text_addf(out, "\n%s\n", hf_program_description[i]);
    hf_text_add(out, "\n| command | does |\n| --- | --- |\n");
    for (size_t at = 0; commands[at]; at++) add_row(commands[at]->name, commands[at]->summary, out);
    for (size_t at = 0; commands[at]; at++) add_command(commands[at], out);
    hf_text_add(out, "\n## Exit codes\n\n| code | meaning |\n| --- | --- |\n");
    for (int code = 0; code < HF_EXIT_COUNT; code++)
        hf_text_addf(out, "| %d | %s |\n", code, hf_exit_text((hf_exit)code));
    hf_text_add(out, "\n## Environment\n\n| variable | meaning |\n| --- | --- |\n");
    for (const hf_program_row *row = hf_program_environment; row->name; row++)
        add_row(row->name, row->text, out);
    hf_text_add(out, "\n## Limits\n");
    for (size_t i = 0; hf_program_limits[i]; i++) hf_text_addf(out, "\n%s\n", hf_program_limits[i]);
}
