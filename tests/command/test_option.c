/* Option rows, the parser of command lines, and the records of all commands. */
#include <check.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/command/command.h"
#include "holdfast/command/help.h"

typedef struct probe_options {
    hf_option_value flag, text, number, count, load, choice, path;
} probe_options;

static const char *const colours[] = {"red", "green", NULL};

static const hf_option rows[] = {
    {.name = "flag", .letter = 'f', .help = "h", .offset = offsetof(probe_options, flag)},
    {.name = "text",
     .type = HF_OPTION_TEXT,
     .value_name = "T",
     .help = "h",
     .offset = offsetof(probe_options, text)},
    {.name = "number",
     .type = HF_OPTION_NUMBER,
     .value_name = "P",
     .maximum = 1,
     .open_ends = true,
     .preset = "0.9",
     .help = "h",
     .offset = offsetof(probe_options, number)},
    {.name = "count",
     .type = HF_OPTION_COUNT,
     .value_name = "N",
     .minimum = 2,
     .maximum = 20,
     .help = "h",
     .offset = offsetof(probe_options, count)},
    {.name = "load",
     .type = HF_OPTION_LOAD,
     .value_name = "L",
     .help = "h",
     .offset = offsetof(probe_options, load)},
    {.name = "choice",
     .type = HF_OPTION_CHOICE,
     .value_name = "C",
     .choices = colours,
     .help = "h",
     .offset = offsetof(probe_options, choice)},
    {.name = "path",
     .letter = 'p',
     .type = HF_OPTION_PATH,
     .value_name = "F",
     .help = "h",
     .offset = offsetof(probe_options, path)},
    {.name = NULL}};
static const hf_option_group groups[] = {{rows, 0}, {NULL, 0}};
static const hf_argument arguments[] = {
    {.name = "FILE", .help = "h"}, {.name = "ID", .help = "h", .optional = true}, {.name = NULL}};
static const hf_command probe = {.name = "probe",
                                 .summary = "s",
                                 .arguments = arguments,
                                 .description = "d",
                                 .groups = groups,
                                 .options_size = sizeof(probe_options)};

/* One command line and what must come of it. */
typedef struct line_case {
    const char *words[8];
    hf_status status;
    const char *message; /* part of it */
} line_case;

static const line_case lines[] = {
    {{"a"}, HF_OK, ""},
    {{"a", "b"}, HF_OK, ""},
    {{"--flag", "a", "--text", "x"}, HF_OK, ""},
    {{"--text=x", "a"}, HF_OK, ""},
    {{"-f", "a", "-p", "q"}, HF_OK, ""},
    {{"-pq", "a"}, HF_OK, ""},
    {{"-p", "-", "a"}, HF_OK, ""},
    {{"--", "--flag"}, HF_OK, ""},
    {{"-"}, HF_OK, ""},
    {{"--number", "0.5", "--count=20", "--load", "18 kg", "--choice", "red", "a"}, HF_OK, ""},
    {{"--load", "40lbf", "a"}, HF_OK, ""},
    {{NULL}, HF_USAGE, "FILE is missing; usage: holdfast probe FILE [ID] [options]"},
    {{"a", "b", "c"}, HF_USAGE, "unexpected word \"c\""},
    {{"a", "--txet", "x"}, HF_USAGE, "unknown option --txet; the nearest is --text"},
    {{"a", "--txet=x"}, HF_USAGE, "unknown option --txet; the nearest is --text"},
    {{"a", "-z"}, HF_USAGE, "unknown option -z"},
    {{"a", "--"}, HF_OK, ""},
    {{"a", "--text"}, HF_USAGE, "option --text needs a value T"},
    {{"a", "--text", "--flag"}, HF_USAGE, "option --text needs a value T"},
    {{"a", "--text="}, HF_USAGE, "option --text: found \"\", expected a text that is not empty"},
    {{"a", "--flag=1"}, HF_USAGE, "option --flag takes no value, found \"1\""},
    {{"a", "--flag", "-f"}, HF_USAGE, "option --flag is given twice"},
    {{"a", "--number", "1"}, HF_USAGE, "found \"1\", expected a number above 0 and below 1"},
    {{"a", "--number", "0"}, HF_USAGE, "found \"0\", expected a number above 0 and below 1"},
    {{"a", "--number", "-0.5"}, HF_USAGE, "found \"-0.5\""},
    {{"a", "--number", "nan"}, HF_USAGE, "found \"nan\""},
    {{"a", "--number", "0,5"}, HF_OK, ""},
    {{"a", "--number", "0,125"}, HF_OK, ""},
    {{"a", "--number", "12%"}, HF_OK, ""},
    {{"a", "--number", "12 %"}, HF_OK, ""},
    {{"a", "--number", "120%"}, HF_USAGE, "found \"1.2\", expected a number above 0 and below 1"},
    {{"a", "--number", "1,234"}, HF_USAGE, "write a decimal point, and nothing between thousands"},
    {{"a", "--load", "56", "kg"}, HF_OK, ""},
    {{"a", "--load", "58,5kg"}, HF_OK, ""},
    {{"a", "--load", "58,5", "kg"}, HF_OK, ""},
    {{"a", "--load", "56", "kp"}, HF_OK, ""}, /* an ID behind the bare load */
    {{"a", "--load", "1,234kg"},
     HF_USAGE,
     "found \"1,234kg\", expected a decimal point and nothing between thousands"},
    {{"a", "--count", "1"}, HF_USAGE, "found \"1\", expected a whole number from 2 to 20"},
    {{"a", "--count", "21"}, HF_USAGE, "found \"21\""},
    {{"a", "--count", "2.0"}, HF_USAGE, "found \"2.0\""},
    {{"a", "--count", "18446744073709551618"}, HF_USAGE, "found \"18446744073709551618\""},
    {{"a", "--load", "heavy"}, HF_USAGE, "option --load: "},
    {{"a", "--load", "18 kp"}, HF_USAGE, "option --load: "},
    {{"a", "--choice", "gren"}, HF_USAGE, "found \"gren\", expected red or green; the nearest is green"},
};

enum { LINES = sizeof lines / sizeof lines[0] };

static size_t word_count(const char *const *words) {
    size_t count = 0;
    while (count < 8 && words[count]) count++;
    return count;
}

START_TEST(each_line_is_read_or_refused_with_its_words) {
    const line_case *line = &lines[_i];
    hf_request request = {.command = &probe, .arena = hf_arena_create()};
    hf_error_clear(&request.error);
    hf_status status = hf_request_parse(&request, line->words, word_count(line->words));
    ck_assert_msg(status == line->status, "line %d: status %d: %s", _i, status, request.error.message);
    ck_assert_msg(strstr(request.error.message, line->message) != NULL, "line %d: \"%s\" lacks \"%s\"", _i,
                  request.error.message, line->message);
    hf_arena_free(request.arena);
}
END_TEST

START_TEST(a_second_call_sees_nothing_of_the_first) {
    const char *const first[] = {"a", "--flag", "--number", "0.5", "--text", "x"};
    const char *const second[] = {"b"};
    hf_request request = {.command = &probe, .arena = hf_arena_create()};
    hf_error_clear(&request.error);
    ck_assert_int_eq(hf_request_parse(&request, first, 6), HF_OK);
    const probe_options *options = request.options;
    ck_assert(options->flag.given && options->number.given);
    ck_assert_double_eq(options->number.number, 0.5);
    ck_assert_str_eq(options->text.text, "x");
    ck_assert_int_eq(hf_request_parse(&request, second, 1), HF_OK);
    options = request.options;
    ck_assert(!options->flag.given && !options->number.given);
    ck_assert_double_eq(options->number.number, 0.9);
    ck_assert_ptr_null(options->text.text);
    ck_assert_uint_eq(request.argument_count, 1);
    ck_assert_str_eq(request.arguments[0], "b");
    hf_arena_free(request.arena);
}
END_TEST

START_TEST(two_dashes_end_the_options) {
    const char *const words[] = {"--", "--flag", "-p"};
    hf_request request = {.command = &probe, .arena = hf_arena_create()};
    hf_error_clear(&request.error);
    ck_assert_int_eq(hf_request_parse(&request, words, 3), HF_OK);
    const probe_options *options = request.options;
    ck_assert(!options->flag.given);
    ck_assert_str_eq(request.arguments[0], "--flag");
    ck_assert_str_eq(request.arguments[1], "-p");
    hf_arena_free(request.arena);
}
END_TEST

static void check_option(const hf_command *command, const hf_option *row, size_t at) {
    size_t offset;
    hf_command_option(command, at, &offset);
    ck_assert_msg(offset + sizeof(hf_option_value) <= command->options_size, "%s --%s: outside its struct",
                  command->name, row->name);
    ck_assert_msg((row->type == HF_OPTION_FLAG) == (row->value_name == NULL), "%s --%s: value name",
                  command->name, row->name);
    ck_assert_msg((row->type == HF_OPTION_CHOICE) == (hf_option_choice(row, 0) != NULL), "%s --%s: choices",
                  command->name, row->name);
    ck_assert_msg(row->help && row->help[0] && row->help[strlen(row->help) - 1] != '.', "%s --%s: help",
                  command->name, row->name);
    for (size_t other = 0; other < at; other++) {
        size_t place;
        const hf_option *earlier = hf_command_option(command, other, &place);
        ck_assert_msg(strcmp(earlier->name, row->name) != 0, "%s --%s stands twice", command->name,
                      row->name);
        ck_assert_msg(!row->letter || earlier->letter != row->letter, "%s -%c stands twice", command->name,
                      row->letter);
        ck_assert_msg(place != offset, "%s --%s and --%s share a place", command->name, row->name,
                      earlier->name);
    }
}

START_TEST(every_record_is_complete) {
    const hf_command *command;
    size_t at = 0;
    for (; (command = hf_commands[at]) != NULL; at++) {
        const hf_option *row;
        ck_assert(command->run != NULL && command->description[0] && command->examples[0].line);
        ck_assert_msg(command->summary[strlen(command->summary) - 1] != '.', "%s: summary", command->name);
        ck_assert_msg(command->exits & HF_EXIT_BIT(HF_EXIT_USAGE), "%s: exit codes", command->name);
        ck_assert_msg(hf_command_option_find(command, "help", NULL) != NULL, "%s: no --help", command->name);
        for (size_t i = 0; (row = hf_command_option(command, i, NULL)) != NULL; i++)
            check_option(command, row, i);
    }
    ck_assert_uint_ge(at, 7);
}
END_TEST

START_TEST(presets_of_every_record_are_values_of_their_row) {
    const hf_command *command;
    for (size_t at = 0; (command = hf_commands[at]) != NULL; at++) {
        const hf_option *row;
        for (size_t i = 0; (row = hf_command_option(command, i, NULL)) != NULL; i++) {
            hf_option_value value;
            hf_error error;
            hf_error_clear(&error);
            if (!row->preset) continue;
            ck_assert_msg(hf_option_read(row, row->preset, &value, &error) == HF_OK, "%s: %s", command->name,
                          error.message);
        }
    }
}
END_TEST

START_TEST(the_longest_name_is_taken) {
    const char *const words[] = {"assess", "contrast", "x"};
    size_t used;
    ck_assert_str_eq(hf_command_match(hf_commands, words, 3, &used)->name, "assess");
    ck_assert_uint_eq(used, 1);
    ck_assert_ptr_null(hf_command_match(hf_commands, words + 1, 2, &used));
    ck_assert_ptr_null(hf_command_match(hf_commands, words, 0, &used));
}
END_TEST

int main(void) {
    Suite *suite = suite_create("command");
    TCase *group = tcase_create("option");
    tcase_add_loop_test(group, each_line_is_read_or_refused_with_its_words, 0, LINES);
    tcase_add_test(group, a_second_call_sees_nothing_of_the_first);
    tcase_add_test(group, two_dashes_end_the_options);
    tcase_add_test(group, every_record_is_complete);
    tcase_add_test(group, presets_of_every_record_are_values_of_their_row);
    tcase_add_test(group, the_longest_name_is_taken);
    suite_add_tcase(suite, group);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
