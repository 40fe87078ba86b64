/* Help on the terminal: the overview and --help. */
#include "holdfast/command/help.h"

#include <stdio.h>
#include <string.h>
#include "command/program.h"

enum { WIDTH_MOST = 100, LABEL = 26, LABEL_SIZE = 160 };

static size_t text_width(size_t width) {
    return width > WIDTH_MOST ? WIDTH_MOST : width;
}

/* "  label     words", the words wrapped in their own column; a long label stands on a line of its own. */
static void add_row(hf_text *out, const char *label, const char *words, size_t width) {
    char first[LABEL_SIZE], rest[LABEL_SIZE];
    size_t columns = hf_text_columns(label);
    snprintf(rest, sizeof rest, "%*s", LABEL, "");
    if (columns + 4 > LABEL) {
        hf_text_addf(out, "  %s\n", label);
        snprintf(first, sizeof first, "%s", rest);
    } else {
        snprintf(first, sizeof first, "  %s%*s", label, (int)(LABEL - 2 - columns), "");
    }
    hf_text_wrap(out, words, width, first, rest);
}

static void add_paragraphs(const char *description, size_t width, hf_text *out) {
    const char *start;
    size_t length;
    for (size_t at = 0; hf_program_paragraph(description, at, &start, &length); at++) {
        hf_text paragraph = {0};
        hf_text_add_bytes(&paragraph, start, length);
        hf_text_add(out, "\n");
        hf_text_wrap(out, paragraph.bytes ? paragraph.bytes : "", width, "", "");
        if (paragraph.failed) out->failed = true;
        hf_text_free(&paragraph);
    }
}

static void add_arguments(const hf_command *command, size_t width, hf_text *out) {
    if (!command->arguments[0].name) return;
    hf_text_add(out, "\nWords:\n");
    for (const hf_argument *row = command->arguments; row->name; row++)
        add_row(out, row->name, row->help, width);
}

static void add_options(const hf_command *command, size_t width, hf_text *out) {
    const hf_option *row;
    hf_text_add(out, "\nOptions:\n");
    for (size_t at = 0; (row = hf_command_option(command, at, NULL)) != NULL; at++) {
        hf_text label = {0}, words = {0};
        if (row->hidden) continue;
        hf_program_option_label(row, &label);
        hf_option_describe(row, &words);
        if (label.failed || words.failed)
            out->failed = true;
        else
            add_row(out, label.bytes, words.bytes, width);
        hf_text_free(&label);
        hf_text_free(&words);
    }
}

/* A command line is wrapped like a shell takes it: with a backslash. */
static void add_line(const char *line, size_t width, hf_text *out) {
    hf_text wrapped = {0};
    hf_text_wrap(&wrapped, line, width - 2, "  ", "      ");
    for (size_t i = 0; i < wrapped.length; i++) {
        bool last = i + 1 == wrapped.length;
        if (wrapped.bytes[i] == '\n' && !last) hf_text_add(out, " \\");
        hf_text_add_bytes(out, wrapped.bytes + i, 1);
    }
    if (wrapped.failed) out->failed = true;
    hf_text_free(&wrapped);
}

static void add_examples(const hf_command *command, size_t width, hf_text *out) {
    hf_text_add(out, "\nExamples:\n");
    for (const hf_example *example = command->examples; example->line; example++) {
        add_line(example->line, width, out);
        hf_text_wrap(out, example->does, width, "      ", "      ");
    }
}

static void add_exits(const hf_command *command, size_t width, hf_text *out) {
    char label[16];
    hf_text_add(out, "\nExit code:\n");
    for (int code = 0; code < HF_EXIT_COUNT; code++) {
        if (!(command->exits & HF_EXIT_BIT(code))) continue;
        snprintf(label, sizeof label, "  %d  ", code);
        hf_text_wrap(out, hf_exit_text((hf_exit)code), width, label, "     ");
    }
}

static void add_title(const hf_command *command, size_t width, hf_text *out) {
    hf_text title = {0}, usage = {0};
    hf_text_addf(&title, "holdfast %s: %s", command->name, command->summary);
    hf_help_synopsis(command, &usage);
    if (title.failed || usage.failed) {
        out->failed = true;
    } else {
        hf_text_wrap(out, title.bytes, width, "", "    ");
        hf_text_add(out, "\n");
        hf_text_wrap(out, usage.bytes, width, "Usage: ", "    ");
    }
    hf_text_free(&title);
    hf_text_free(&usage);
}

void hf_help_command(const hf_command *command, size_t width, hf_text *out) {
    width = text_width(width);
    add_title(command, width, out);
    add_paragraphs(command->description, width, out);
    add_arguments(command, width, out);
    add_options(command, width, out);
    add_examples(command, width, out);
    add_exits(command, width, out);
}

void hf_help_overview(const hf_command *const *commands, size_t width, hf_text *out) {
    width = text_width(width);
    hf_text_addf(out, "holdfast: %s\n\nUsage: holdfast COMMAND [words] [options]\n\nCommands:\n",
                 hf_program_summary);
    for (size_t at = 0; commands[at]; at++) add_row(out, commands[at]->name, commands[at]->summary, width);
    hf_text_add(out, "\n");
    hf_text_wrap(out, "Start with: holdfast new FILE. More about a command: holdfast help COMMAND.", width,
                 "", "");
    hf_text_add(out, "\n");
    hf_text_wrap(out, hf_program_limits[2], width, "", "");
}
