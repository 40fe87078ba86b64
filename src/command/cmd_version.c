#include "command/commands.h"
#include "command/common.h"
#include "base/version_number.h"

typedef struct version_options {
    hf_output_values output;
    hf_help_values help;
} version_options;

static hf_exit run(hf_request *request) {
    hf_text text = {0};
    hf_text_add(&text, "holdfast " HF_VERSION "\n"
                       "Licence: GNU General Public License, version 3 or later.\n"
                       "This is free software: you may change it and pass it on.\n"
                       "There is NO WARRANTY, as far as the law allows.\n");
    return hf_request_write(request, &text, HF_EXIT_DONE);
}

static const hf_argument arguments[] = {{.name = NULL}};

static const hf_option_group groups[] = {{hf_output_rows, offsetof(version_options, output)},
                                         {hf_help_rows, offsetof(version_options, help)},
                                         {NULL, 0}};

static const hf_example examples[] = {{"holdfast version", "version, licence, and that there is no warranty"},
                                      {NULL, NULL}};

const hf_command hf_command_version = {
    .name = "version",
    .summary = "print version and licence",
    .arguments = arguments,
    .description = "Prints the version of the program and the terms it comes under.",
    .groups = groups,
    .options_size = sizeof(version_options),
    .examples = examples,
    .exits = HF_EXIT_BIT(HF_EXIT_DONE) | HF_EXIT_BIT(HF_EXIT_USAGE) | HF_EXIT_BIT(HF_EXIT_FILE),
    .run = run,
};
