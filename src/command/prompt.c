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

hf_status hf_request_ask(hf_request *request, const hf_question *question) {
    const hf_option *row = hf_command_option_find(request->command, question->option, NULL);
    hf_option_value *value = hf_request_value(request, question->option);
    for (;;) {
        if (question->preset && *question->preset)
            fprintf(stderr, "%s [%s]: ", question->words, question->preset);
        else
            fprintf(stderr, "%s: ", question->words);
        fflush(stderr);
        const char *answer = read_answer(request);
        if (!answer)
            return hf_error_set(&request->error, HF_USAGE, "the answers ended at --%s; nothing was written",
                                question->option);
        if (*answer == '\0' && question->preset) answer = question->preset;
        if (*answer == '\0' && question->preset) return HF_OK;
        answer = hf_option_plain(request->arena, row, answer, NULL);
        if (!answer) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
        if (hf_option_read(row, answer, value, &request->error) == HF_OK) return HF_OK;
        hf_say("%s\n", request->error.message);
        hf_error_clear(&request->error);
    }
}

bool hf_request_confirm(hf_request *request, const char *words) {
    hf_say("%s [y/N]: ", words);
    fflush(stderr);
    const char *answer = read_answer(request);
    return answer && (answer[0] == 'y' || answer[0] == 'Y');
}
