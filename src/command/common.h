/* What commands share: option rows, reading the campaign, writing the result. */
#ifndef HF_COMMAND_COMMON_H
#define HF_COMMAND_COMMON_H

#include "holdfast/campaign/campaign.h"
#include "holdfast/campaign/change.h"
#include "holdfast/command/command.h"
#include "holdfast/study/study.h"
#include "holdfast/words/report.h"

/* --- Shared rows; each array goes with the struct above it ------------------------------------------- */

typedef struct hf_help_values {
    hf_option_value help;
} hf_help_values;
extern const hf_option hf_help_rows[];

typedef struct hf_format_values {
    hf_option_value json, format, color;
} hf_format_values;
extern const hf_option hf_format_rows[];

typedef struct hf_output_values {
    hf_option_value output;
} hf_output_values;
extern const hf_option hf_output_rows[];

typedef struct hf_unit_values {
    hf_option_value unit;
} hf_unit_values;
extern const hf_option hf_unit_rows[];

/* Name of unit `at` of the table, NULL past the last: for rows whose choices are units. */
const char *hf_unit_choice(size_t at);

/* Name of choice `at`, NULL past the last: the strength laws; those with a proven factor; and "auto" before these. */
const char *hf_law_choice(size_t at);
const char *hf_proven_choice(size_t at);
const char *hf_family_choice(size_t at);
/* The law of an option with these choices; NULL and by_rule: "auto" was asked for; NULL alone: nothing was. */
void hf_law_read(const hf_option_value *option, const hf_family **family, bool *by_rule);

typedef struct hf_subject_values {
    hf_option_value design, family;
} hf_subject_values;
extern const hf_option hf_subject_rows[];

typedef struct hf_promise_values {
    hf_option_value content, confidence, basis;
} hf_promise_values;
extern const hf_option hf_promise_rows[];

typedef struct hf_full_values {
    hf_option_value on;
} hf_full_values;
extern const hf_option hf_full_rows[];

typedef struct hf_strip_values {
    hf_option_value ascii;
} hf_strip_values;
extern const hf_option hf_strip_rows[];

typedef struct hf_strict_values {
    hf_option_value on;
} hf_strict_values;
extern const hf_option hf_strict_rows[];

typedef struct hf_verdict_values {
    hf_option_value same_within, level, choose_best;
} hf_verdict_values;
extern const hf_option hf_verdict_rows[];

typedef struct hf_run_values {
    hf_option_value seed, threads;
} hf_run_values;
extern const hf_option hf_run_rows[];

/* Content and confidence that were asked for: by number, or by basis; 0 where neither was. HF_USAGE when both were. */
hf_status hf_promise_read(const hf_promise_values *values, double *content, double *confidence,
                          hf_error *error);

/* --same-within as a share, 0 when it was not given. */
double hf_same_within(const hf_verdict_values *values);

/* The format that was asked for. HF_USAGE when --json and --format contradict each other. */
hf_status hf_format_read(const hf_format_values *values, const hf_report_format **format, hf_error *error);

/* --- Going in and out -------------------------------------------------------------------------------- */

/* Prints request->error on stderr and returns the exit code that belongs to its status. */
hf_exit hf_request_fail(const hf_request *request);

/* A result that no terminal can show goes into a new file of the current folder where none was named and standard output is a terminal: STEM-KIND.EXTENSION,
 * with kind "" STEM.EXTENSION, of the campaign's STEM.json; -2, -3 … where there is one. HF_MEMORY. */
hf_status hf_request_name_output(hf_request *request, const char *path, const char *kind,
                                 const char *extension);

/* Words for people on stderr. What a terminal could take for an order, from names and texts of files, is spelled out. */
#if defined(__GNUC__)
__attribute__((format(printf, 1, 2)))
#endif
void hf_say(const char *format, ...);

/* The same as one line "holdfast COMMAND: …". */
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void hf_request_note(const hf_request *request, const char *format, ...);

/* Says so when the file that has been changed in place had other names, which keep the old text. */
void hf_request_note_names(const hf_request *request, const char *path, size_t names);

/* Whether memory has been refused since the request began. Then there is no answer: whatever would be printed may lack a part, and a
 * mistake found in the file may be none. All that prints or writes below asks this first, says so and gives exit code 5. */
bool hf_request_lacks_memory(const hf_request *request);

/* Prints all findings on stderr, one line each. */
hf_exit hf_findings_print(const hf_request *request, const hf_findings *findings, const char *file);

/* Reads the campaign and prints its findings; HF_EXIT_DONE when it can be worked with. */
hf_exit hf_request_campaign(hf_request *request, const char *path, const hf_campaign **campaign,
                            hf_findings *findings);

/* False, with words in the error, when the first argument is - : this command changes its file. */
bool hf_request_in_place(hf_request *request);

/* A change of the campaign at `path`, as the journal is to know it: now, by this command line. */
hf_campaign_change hf_request_change(hf_request *request, const char *path, hf_campaign_edit *edit,
                                     void *context);

/* Reads the campaign and studies it. The exit code is HF_EXIT_DONE, or that of the message it printed. */
hf_exit hf_request_study(hf_request *request, const char *path, const hf_study_options *options,
                         const hf_study **out);
/* The same where the comparison is a must. */
hf_exit hf_request_comparison(hf_request *request, const char *path, const hf_study_options *options,
                              const hf_study **out);
/* What the answers mean for a script. strict: what is met only "if" is not met. */
hf_exit hf_exit_of_answers(const hf_assessment *assessment, bool strict);

/* The style for a campaign (NULL: newtons, standard gravity), in --unit where that is given; with strips for a command that has --ascii,
 * where its text goes to a terminal wide enough. */
hf_report_style hf_request_style(const hf_request *request, const hf_campaign *campaign);

/* The command line as a shell takes it, with every option that was given but --threads and --output, which change
 * nothing in the result. NULL: out of memory. */
const char *hf_request_line(hf_request *request);

/* HF_USAGE when --output would replace a file that is read, a campaign, or the lock of one. */
hf_status hf_request_check_output(hf_request *request);

/* Writes the finished text to --output or stdout, frees it, and returns `code`, or the exit code of what went wrong after saying why, and
 * what request->kept says. What goes to a terminal holds no control characters but its own colours. */
hf_exit hf_request_write(hf_request *request, hf_text *text, hf_exit code);

/* --- Asking ------------------------------------------------------------------------------------------ */

/* One question. The answer is read and checked by the option's own row. */
typedef struct hf_question {
    const char *option; /* long name */
    const char *words;
    const char *preset; /* taken on an empty answer; "" : may stay empty */
    unsigned when;      /* for whoever decides what is skipped */
} hf_question;

/* Whether a person sits there: questions go to stderr, answers come from stdin. */
bool hf_request_can_ask(const hf_request *request);

/* Whether the answer is yes; an empty one, and the end of the input, is no. */
bool hf_request_confirm(hf_request *request, const char *words);

/* Asks one after the other those that are not `skipped` (NULL: none is), each until the answer fits; "<" goes one back, "-" takes an answer away that
 * may be missing. *back true: begins with the last of them; true afterwards when "<" was said at the first. HF_USAGE when the input ends. */
hf_status hf_request_ask(hf_request *request, const hf_question *questions, size_t count,
                         bool (*skipped)(const hf_request *request, unsigned when), bool *back);

#endif
