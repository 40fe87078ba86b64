/* Commands of the program, one file and one record each.
 *
 * A command parses its words, calls one study or campaign function and one report function, and returns an
 * exit code. Its record holds name, arguments, options, words for the help and examples; everything a person
 * reads about a command is made from the record. To add one: write src/command/cmd_<name>.c with its record,
 * and add one row to the table in command.c. */
#ifndef HOLDFAST_COMMAND_COMMAND_H
#define HOLDFAST_COMMAND_COMMAND_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/error.h"
#include "holdfast/command/option.h"

/* Exit codes of the program. Pinned: scripts rely on them. X(name, code, meaning) */
#define HF_EXIT_LIST(X)                                                                                      \
    X(HF_EXIT_DONE, 0, "done")                                                                               \
    X(HF_EXIT_NOT_MET, 1, "done, and a stated requirement is not met")                                       \
    X(HF_EXIT_USAGE, 2, "the command line is wrong; nothing was done")                                       \
    X(HF_EXIT_BAD_DATA, 3, "the file says something that cannot be; nothing was computed")                   \
    X(HF_EXIT_NO_RESULT, 4, "nothing can be computed from these data")                                       \
    X(HF_EXIT_FILE, 5, "a file could not be read or written, or memory ran out")

typedef enum hf_exit {
#define HF_EXIT_ENUM(name, code, meaning) name = code,
    HF_EXIT_LIST(HF_EXIT_ENUM)
#undef HF_EXIT_ENUM
} hf_exit;

enum { HF_EXIT_COUNT = 6 };

/* Meaning of an exit code in words. Static text. */
const char *hf_exit_text(hf_exit code);

/* Set of exit codes, for records. */
#define HF_EXIT_BIT(code) (1U << (unsigned)(code))

/* One word that follows the command. Arrays end with a row whose name is NULL. */
typedef struct hf_argument {
    const char *name; /* "FILE" */
    const char *help;
    bool optional;
    bool many; /* the last one may be repeated */
    bool is_path;
} hf_argument;

/* A command line and what it does. Arrays end with a row whose line is NULL. */
typedef struct hf_example {
    const char *line;
    const char *does;
} hf_example;

/* What the three standard streams are and what the environment says about colour. */
typedef struct hf_terminal {
    bool input, output, errors;  /* the stream is a terminal */
    size_t width;                /* columns; 80 when unknown */
    bool color_off, color_force; /* by NO_COLOR or TERM=dumb; by CLICOLOR_FORCE */
} hf_terminal;

typedef struct hf_command hf_command;

/* One call of one command. Everything lives in the arena and ends with the call. */
typedef struct hf_request {
    const hf_command *const *commands; /* all of the program; ends with NULL */
    const hf_command *command;
    hf_arena *arena;
    const hf_terminal *terminal;
    const char *const *arguments; /* the words that are no options */
    size_t argument_count;
    void *options;     /* the command's options struct */
    const char *kept;  /* what has been done all the same when the output cannot be written; NULL: nothing */
    const char *named; /* the file that the output goes to although nobody named one; NULL */
    hf_error error;
    size_t memory_refusals; /* before this request */
} hf_request;

struct hf_command {
    const char *name;    /* may be two words; the longest that fits is taken */
    const char *summary; /* one line without full stop */
    const hf_argument *arguments;
    const char *description; /* paragraphs parted by an empty line */
    const hf_option_group *groups;
    size_t options_size;
    const hf_example *examples;
    unsigned exits; /* HF_EXIT_BITs in use */
    hf_exit (*run)(hf_request *request);
};

/* The commands of the program in the order they are listed to people; NULL behind the last. */
extern const hf_command *const hf_commands[];

/* The one of `commands` that words[0..count) start with, the longest name first; *used words belong to it.
 * NULL when there is none. */
const hf_command *hf_command_match(const hf_command *const *commands, const char *const *words, size_t count,
                                   size_t *used);

/* The `at`-th option of a command over all its groups, NULL past the last; *offset is the place of its
 * value in the options struct. offset may be NULL. */
const hf_option *hf_command_option(const hf_command *command, size_t at, size_t *offset);

/* The option with this long name, of so many bytes or to its end, or this letter; NULL when the command has none; offset as above. */
const hf_option *hf_command_option_named(const hf_command *command, const char *name, size_t length,
                                         size_t *offset);
const hf_option *hf_command_option_find(const hf_command *command, const char *name, size_t *offset);
const hf_option *hf_command_option_letter(const hf_command *command, char letter, size_t *offset);

/* The value that belongs to the option with this name (asserted to exist). */
hf_option_value *hf_request_value(const hf_request *request, const char *name);

/* Reads the words after the command's name into request->options and ->arguments. The request's command and
 * arena must be set. Options may stand anywhere, "--" ends them. HF_USAGE with words in request->error. */
hf_status hf_request_parse(hf_request *request, const char *const *words, size_t count);

/* The whole program: words[0] is its name. Returns the exit code. Can be called any number of times. */
int hf_command_main(int count, char *const *words);

#endif
