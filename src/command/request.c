/* From words to a request: which option is meant, which value it takes, what is left over. */
#include "holdfast/command/command.h"

#include <assert.h>
#include <string.h>
#include "holdfast/command/help.h"
#include "holdfast/load/unit.h"

enum { OPTION_LIMIT = 64 };

/* The words that are still to be read. */
typedef struct word_list {
    const char *const *words;
    size_t count, at;
} word_list;

static hf_option_value *value_at(const hf_request *request, size_t offset) {
    return (hf_option_value *)(void *)((char *)request->options + offset);
}

hf_option_value *hf_request_value(const hf_request *request, const char *name) {
    size_t offset = 0;
    const hf_option *row = hf_command_option_find(request->command, name, &offset);
    assert(row);
    (void)row;
    return value_at(request, offset);
}

static hf_status unknown_option(hf_request *request, const char *word, size_t length) {
    const char *candidates[OPTION_LIMIT];
    size_t count = 0;
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(request->command, at, NULL)) != NULL; at++) {
        if (!row->hidden && count < OPTION_LIMIT) candidates[count++] = row->name;
    }
    char name[64];
    size_t dashes = strspn(word, "-"), kept = length > dashes ? length - dashes : 0;
    if (kept >= sizeof name) kept = sizeof name - 1;
    memcpy(name, word + dashes, kept);
    name[kept] = '\0';
    const char *near = hf_text_nearest(name, candidates, count);
    if (near)
        return hf_error_set(&request->error, HF_USAGE, "unknown option %.*s; the nearest is --%s",
                            (int)length, word, near);
    return hf_error_set(&request->error, HF_USAGE, "unknown option %.*s; all options: holdfast %s --help",
                        (int)length, word, request->command->name);
}

/* "--held 56 kg": the unit behind a bare number is part of the load. */
static const char *unit_word(const char *load, word_list *list) {
    const char *word = list->at < list->count ? list->words[list->at] : NULL;
    bool bare = load[0] && strspn(load, "+-.,0123456789eE") == strlen(load);
    if (!bare || !word || !hf_unit_find(word, strlen(word))) return NULL;
    list->at++;
    return word;
}

/* `attached` is the text after "=" or after the letter, NULL when there is none. */
static hf_status take_option(hf_request *request, const hf_option *option, size_t offset,
                             const char *attached, word_list *list) {
    hf_option_value *value = value_at(request, offset);
    const char *unit = NULL;
    if (value->given)
        return hf_error_set(&request->error, HF_USAGE, "option --%s is given twice, expected once",
                            option->name);
    if (option->type == HF_OPTION_FLAG) {
        if (attached)
            return hf_error_set(&request->error, HF_USAGE, "option --%s takes no value, found \"%.60s\"",
                                option->name, attached);
        return hf_option_read(option, "", value, &request->error);
    }
    if (!attached) {
        const char *next = list->at < list->count ? list->words[list->at] : NULL;
        if (!next || strncmp(next, "--", 2) == 0)
            return hf_error_set(&request->error, HF_USAGE, "option --%s needs a value %s", option->name,
                                option->value_name);
        attached = next;
        list->at++;
        unit = option->type == HF_OPTION_LOAD ? unit_word(attached, list) : NULL;
    }
    const char *plain = hf_option_plain(request->arena, option, attached, unit);
    if (!plain) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    return hf_option_read(option, plain, value, &request->error);
}

static hf_status parse_option(hf_request *request, const char *word, word_list *list) {
    const hf_option *option;
    const char *attached = NULL;
    size_t length = strlen(word), offset = 0;
    if (word[1] == '-') {
        const char *equals = strchr(word, '=');
        if (equals) length = (size_t)(equals - word);
        if (equals) attached = equals + 1;
        option = hf_command_option_named(request->command, word + 2, length - 2, &offset);
    } else {
        option = hf_command_option_letter(request->command, word[1], &offset);
        if (word[2]) attached = word + 2;
    }
    if (!option) return unknown_option(request, word, length);
    return take_option(request, option, offset, attached, list);
}

static hf_status refuse_word(hf_request *request, bool missing, const char *word) {
    hf_text synopsis = {0};
    hf_help_synopsis(request->command, &synopsis);
    const char *usage = synopsis.bytes ? synopsis.bytes : "";
    if (missing)
        hf_error_set(&request->error, HF_USAGE, "%s is missing; usage: %s", word, usage);
    else
        hf_error_set(&request->error, HF_USAGE, "unexpected word \"%.60s\"; usage: %s", word, usage);
    hf_text_free(&synopsis);
    return HF_USAGE;
}

static hf_status check_arguments(hf_request *request) {
    size_t rows = 0;
    bool many = false;
    for (const hf_argument *row = request->command->arguments; row->name; row++, rows++) {
        if (!row->optional && rows >= request->argument_count) return refuse_word(request, true, row->name);
        many = row->many;
    }
    if (!many && request->argument_count > rows) return refuse_word(request, false, request->arguments[rows]);
    return HF_OK;
}

static hf_status check_required(hf_request *request) {
    size_t offset;
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(request->command, at, &offset)) != NULL; at++) {
        if (row->required && !value_at(request, offset)->given)
            return hf_error_set(&request->error, HF_USAGE, "option --%s %s is missing", row->name,
                                row->value_name);
    }
    return HF_OK;
}

static hf_status set_presets(hf_request *request) {
    size_t offset;
    const hf_option *row;
    for (size_t at = 0; (row = hf_command_option(request->command, at, &offset)) != NULL; at++) {
        if (!row->preset) continue;
        hf_option_value *value = value_at(request, offset);
        hf_status status = hf_option_read(row, row->preset, value, &request->error);
        if (status != HF_OK) return status;
        value->given = false;
    }
    return HF_OK;
}

hf_status hf_request_parse(hf_request *request, const char *const *words, size_t count) {
    request->options = hf_arena_array(request->arena, 1, request->command->options_size);
    const char **arguments = HF_ARENA_NEW_ARRAY(request->arena, const char *, count + 1);
    if (!request->options || !arguments)
        return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    request->arguments = arguments;
    request->argument_count = 0;
    hf_status status = set_presets(request);
    word_list list = {words, count, 0};
    bool ended = false;
    while (status == HF_OK && list.at < list.count) {
        const char *word = list.words[list.at++];
        if (!ended && strcmp(word, "--") == 0)
            ended = true;
        else if (!ended && word[0] == '-' && word[1] != '\0')
            status = parse_option(request, word, &list);
        else
            arguments[request->argument_count++] = word;
    }
    if (status == HF_OK) status = check_arguments(request);
    if (status == HF_OK) status = check_required(request);
    return status;
}
