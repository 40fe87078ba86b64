/* Options of commands, one row each.
 *
 * A row says everything about an option: its name, what values it takes, its limits, its default and its
 * help. Parsing, checking, --help, the manual page, the shell completion and docs/commands.md all read the
 * same row. Where the value goes is an offset into the options struct of the command, whose members are
 * hf_option_value; nothing is kept between two calls. */
#ifndef HOLDFAST_COMMAND_OPTION_H
#define HOLDFAST_COMMAND_OPTION_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/base/text.h"

typedef enum hf_option_type {
    HF_OPTION_FLAG,   /* takes no value */
    HF_OPTION_TEXT,   /* any text that is not empty */
    HF_OPTION_NUMBER, /* a decimal number within the limits */
    HF_OPTION_COUNT,  /* a whole number within the limits */
    HF_OPTION_LOAD,   /* "18 kg", "1.2 kN", or a bare number */
    HF_OPTION_CHOICE, /* one of the choices */
    HF_OPTION_PATH    /* a file name */
} hf_option_type;

/* What was said on the command line, or the default. */
typedef struct hf_option_value {
    bool given;       /* on the command line; false: default, or nothing */
    const char *text; /* as typed or the default; NULL when there is neither; "" for a given flag */
    double number;    /* of a NUMBER */
    uint64_t count;   /* of a COUNT */
} hf_option_value;

/* One option. Arrays of rows end with a row whose name is NULL. */
typedef struct hf_option {
    const char *name; /* long name without dashes */
    char letter;      /* one-letter form, 0: none */
    hf_option_type type;
    const char *value_name;              /* "FILE"; NULL for flags */
    const char *preset;                  /* default as typed; NULL: none */
    double minimum, maximum;             /* of NUMBER and COUNT; both 0: no limit */
    bool open_ends;                      /* the limits themselves are excluded */
    const char *const *choices;          /* of CHOICE, ending with NULL; or */
    const char *(*choice_at)(size_t at); /* choice `at`, NULL past the last */
    bool required, hidden;               /* hidden: not in help, used by the build */
    const char *help;                    /* one sentence without full stop */
    size_t offset;                       /* of the hf_option_value in the struct of its group */
} hf_option;

/* Rows that several commands share come as a group with the place of its struct in the command's options.
 * Arrays of groups end with a group whose rows are NULL. */
typedef struct hf_option_group {
    const hf_option *rows;
    size_t offset;
} hf_option_group;

/* Choice `at` of a CHOICE row, NULL past the last. */
const char *hf_option_choice(const hf_option *option, size_t at);

/* Reads `text` as a value of this option into *value (given becomes true; the text is borrowed).
 * HF_USAGE, with what was found and what was expected, when it is none. */
hf_status hf_option_read(const hf_option *option, const char *text, hf_option_value *value, hf_error *error);

/* `text` as this option reads it, where people write it otherwise: a decimal comma ("58,5kg"; not where it could part thousands, as in 1,234), per
 * cent of a share ("12%"), and the unit as a word of its own (`unit`, NULL: none follows). Lives in `arena`; `text` itself where nothing
 * is to change; NULL: out of memory. */
const char *hf_option_plain(hf_arena *arena, const hf_option *option, const char *text, const char *unit);

/* Appends what the option expects: "a number above 0 and below 1", "text, json or md". */
void hf_option_expected(const hf_option *option, hf_text *out);

/* Appends the help sentence with limits, choices and default: what all generated pages show. */
void hf_option_describe(const hf_option *option, hf_text *out);

#endif
