/* The manual page, in the man macros. */
#include "holdfast/command/help.h"

#include <string.h>
#include "command/program.h"
#include "base/version_number.h"

/* One character of UTF-8 as a roff escape; returns the bytes taken. */
static size_t add_character(const unsigned char *bytes, hf_text *out) {
    unsigned long code = bytes[0];
    size_t length = bytes[0] >= 0xf0 ? 4 : bytes[0] >= 0xe0 ? 3 : 2;
    code &= length == 4 ? 0x07U : length == 3 ? 0x0fU : 0x1fU;
    for (size_t i = 1; i < length; i++) code = code << 6 | (bytes[i] & 0x3fU);
    hf_text_addf(out, "\\[u%04lX]", code);
    return length;
}

/* Words as roff prints them: no hyphen becomes a dash, no line is taken for a request. */
static void add_bytes(const char *words, size_t length, hf_text *out) {
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)words[i];
        if (i == 0 && (byte == '.' || byte == '\'')) hf_text_add(out, "\\&");
        if (byte == '\\')
            hf_text_add(out, "\\e");
        else if (byte == '-')
            hf_text_add(out, "\\-");
        else if (byte >= 0xc0)
            i += add_character((const unsigned char *)words + i, out) - 1;
        else
            hf_text_add_bytes(out, words + i, 1);
    }
}

static void add_words(const char *words, hf_text *out) {
    add_bytes(words, strlen(words), out);
    hf_text_add(out, "\n");
}

static void add_item(const char *label, const char *words, hf_text *out) {
    hf_text_add(out, ".TP\n.B ");
    add_words(label, out);
    add_words(words, out);
}

static void add_paragraphs(const char *const *paragraphs, hf_text *out) {
    for (size_t i = 0; paragraphs[i]; i++) {
        if (i) hf_text_add(out, ".PP\n");
        add_words(paragraphs[i], out);
    }
}

static void add_option(const hf_option *option, hf_text *out) {
    hf_text words = {0};
    hf_text_add(out, ".TP\n");
    if (option->letter) hf_text_addf(out, "\\fB\\-%c\\fR, ", option->letter);
    hf_text_add(out, "\\fB\\-\\-");
    add_bytes(option->name, strlen(option->name), out);
    hf_text_add(out, "\\fR");
    if (option->value_name) hf_text_addf(out, " \\fI%s\\fR", option->value_name);
    hf_text_add(out, "\n");
    hf_option_describe(option, &words);
    if (words.failed)
        out->failed = true;
    else
        add_words(words.bytes, out);
    hf_text_free(&words);
}

static void add_command(const hf_command *command, hf_text *out) {
    hf_text synopsis = {0};
    const char *start;
    size_t length;
    hf_text_add(out, ".SS ");
    hf_help_synopsis(command, &synopsis);
    if (synopsis.failed)
        out->failed = true;
    else
        add_words(synopsis.bytes, out);
    hf_text_free(&synopsis);
    for (size_t at = 0; hf_program_paragraph(command->description, at, &start, &length); at++) {
        if (at) hf_text_add(out, ".PP\n");
        add_bytes(start, length, out);
        hf_text_add(out, "\n");
    }
    for (const hf_argument *row = command->arguments; row->name; row++) add_item(row->name, row->help, out);
}

static bool any_option(const hf_command *command) {
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(command, at, NULL)) != NULL; at++) {
        if (!row->hidden) return true;
    }
    return false;
}

static void add_options_of(const hf_command *command, hf_text *out) {
    const hf_option *row;
    if (!any_option(command)) return;
    hf_text_add(out, ".SS Options of ");
    add_words(command->name, out);
    for (size_t at = 0; (row = hf_command_option(command, at, NULL)) != NULL; at++) {
        if (!row->hidden) add_option(row, out);
    }
}

static void add_examples(const hf_command *const *commands, hf_text *out) {
    hf_text_add(out, ".SH EXAMPLES\n");
    for (size_t at = 0; commands[at]; at++) {
        for (const hf_example *example = commands[at]->examples; example->line; example++)
            add_item(example->line, example->does, out);
    }
}

static void add_rows(const char *heading, const hf_program_row *rows, hf_text *out) {
    hf_text_addf(out, ".SH %s\n", heading);
    for (; rows->name; rows++) add_item(rows->name, rows->text, out);
}

static void add_exits(hf_text *out) {
    hf_text_add(out, ".SH EXIT STATUS\n");
    for (int code = 0; code < HF_EXIT_COUNT; code++) {
        hf_text_addf(out, ".TP\n.B %d\n", code);
        add_words(hf_exit_text((hf_exit)code), out);
    }
}

void hf_help_man(const hf_command *const *commands, hf_text *out) {
    hf_text_add(out,
                ".TH HOLDFAST 1 \"\" \"holdfast " HF_VERSION "\" \"User Commands\"\n.SH NAME\nholdfast \\- ");
    add_words(hf_program_summary, out);
    hf_text_add(out,
                ".SH SYNOPSIS\n.B holdfast\n.I command\n.RI [ words ]\n.RI [ options ]\n.SH DESCRIPTION\n");
    add_paragraphs(hf_program_description, out);
    hf_text_add(out, ".SH COMMANDS\n");
    for (size_t at = 0; commands[at]; at++) add_command(commands[at], out);
    hf_text_add(out, ".SH OPTIONS\nOptions may stand anywhere after the command, as\n"
                     ".BI \\-\\-name= value\nor\n.BI \\-\\-name \" value\" .\n"
                     "Two dashes alone end them.\n");
    for (size_t at = 0; commands[at]; at++) add_options_of(commands[at], out);
    add_exits(out);
    add_rows("ENVIRONMENT", hf_program_environment, out);
    add_rows("FILES", hf_program_files, out);
    add_examples(commands, out);
    hf_text_add(out, ".SH NOTES\n");
    add_paragraphs(hf_program_limits, out);
}
