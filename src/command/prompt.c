/* Questions to a person at a terminal. */
#include "command/common.h"

#include <stdio.h>
#include <string.h>

enum { ANSWER_SIZE = 1024 };

bool hf_request_can_ask(const hf_request *request) {
    return request->terminal->input && request->terminal->errors;
}

/* One line without its end; false when the input has ended. A line that does not fit is refused, not cut. */
static bool read_line(char line[ANSWER_SIZE]) {
    for (;;) {
        if (!fgets(line, ANSWER_SIZE, stdin)) return false;
        size_t length = strcspn(line, "\r\n");
        bool whole = line[length] != '\0' || length < ANSWER_SIZE - 1;
        line[length] = '\0';
        if (whole) return true;
        for (int c = getchar(); c != '\n' && c != EOF;) c = getchar();
        fprintf(stderr, "the answer is too long, expected at most %d characters: ", ANSWER_SIZE - 2);
    }
}

/* The answer without blanks around it; NULL when the input has ended. */
static const char *read_answer(hf_request *request) {
    char line[ANSWER_SIZE];
    if (!read_line(line)) return NULL;
    const char *start = line + strspn(line, " \t");
    size_t length = strlen(start);
    while (length && (start[length - 1] == ' ' || start[length - 1] == '\t')) length--;
    return hf_arena_text(request->arena, start, length);
}

/* y or n for what is said or not. */
static hf_status read_flag(const char *answer, hf_option_value *value, hf_error *error) {
    if (!strchr("yYnN", answer[0]))
        return hf_error_set(error, HF_USAGE, "found \"%.60s\", expected y or n", answer);
    *value = (hf_option_value){.given = answer[0] == 'y' || answer[0] == 'Y', .text = ""};
    return HF_OK;
}

/* What an empty answer takes: what was answered before, else the preset. */
static const char *offered(const hf_question *question, const hf_option *row, const hf_option_value *value) {
    if (!value->given) return question->preset;
    return row->type == HF_OPTION_FLAG ? "y" : value->text;
}

static void print_question(const hf_question *question, const char *preset) {
    hf_say("%s", question->words);
    if (preset && *preset) hf_say(" [%s]", preset);
    hf_say(": ");
    fflush(stderr);
}

/* One question; *back where it was answered by "<". */
static hf_status ask(hf_request *request, const hf_question *question, bool *back) {
    const hf_option *row = hf_command_option_find(request->command, question->option, NULL);
    hf_option_value *value = hf_request_value(request, question->option);
    for (;;) {
        const char *preset = offered(question, row, value);
        print_question(question, preset);
        const char *answer = read_answer(request);
        if (!answer)
            return hf_error_set(&request->error, HF_USAGE, "the answers ended at --%s; nothing was written",
                                question->option);
        *back = strcmp(answer, "<") == 0;
        if (*back) return HF_OK;
        bool none = strcmp(answer, "-") == 0 && question->preset && !*question->preset;
        if (none) *value = (hf_option_value){0};
        if (none || (*answer == '\0' && (value->given || (preset && !*preset)))) return HF_OK;
        if (*answer == '\0' && preset) answer = preset;
        if (row->type != HF_OPTION_FLAG) answer = hf_option_plain(request->arena, row, answer, NULL);
        if (!answer) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
        hf_status status = row->type == HF_OPTION_FLAG ? read_flag(answer, value, &request->error)
                                                       : hf_option_read(row, answer, value, &request->error);
        if (status == HF_OK) return HF_OK;
        hf_say("%s\n", request->error.message);
        hf_error_clear(&request->error);
    }
}

hf_status hf_request_ask(hf_request *request, const hf_question *questions, size_t count,
                         bool (*skipped)(const hf_request *request, unsigned when), bool *back) {
    size_t at = *back ? count : 0;
    bool backwards = *back;
    *back = false;
    for (;;) {
        if (backwards && at == 0) {
            *back = true;
            return HF_OK;
        }
        if (backwards) at--;
        if (at == count) return HF_OK;
        if (!skipped || !skipped(request, questions[at].when)) {
            hf_status status = ask(request, &questions[at], &backwards);
            if (status != HF_OK) return status;
        }
        if (!backwards) at++;
    }
}

bool hf_request_confirm(hf_request *request, const char *words) {
    hf_say("%s [y/N]: ", words);
    fflush(stderr);
    const char *answer = read_answer(request);
    return answer && (answer[0] == 'y' || answer[0] == 'Y');
}
