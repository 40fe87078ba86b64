/* One option value: reading it, and saying what it takes. */
#include "holdfast/command/option.h"

#include <assert.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/load/unit.h"

enum { CHOICE_LIMIT = 64 };

const char *hf_option_choice(const hf_option *option, size_t at) {
    if (option->choice_at) return option->choice_at(at);
    if (!option->choices) return NULL;
    for (size_t i = 0; i <= at; i++) {
        if (!option->choices[i]) return NULL;
    }
    return option->choices[at];
}

static bool has_limits(const hf_option *option) {
    return option->minimum < option->maximum;
}

static bool within(const hf_option *option, double number) {
    if (!has_limits(option)) return true;
    if (option->open_ends) return number > option->minimum && number < option->maximum;
    return number >= option->minimum && number <= option->maximum;
}

static void add_limits(const hf_option *option, hf_text *out) {
    char low[HF_NUMBER_SIZE], high[HF_NUMBER_SIZE];
    if (!has_limits(option)) return;
    hf_text_addf(out, option->open_ends ? "above %s and below %s" : "from %s to %s",
                 hf_number_shortest(option->minimum, low), hf_number_shortest(option->maximum, high));
}

static void add_choices(const hf_option *option, hf_text *out) {
    for (size_t at = 0; hf_option_choice(option, at); at++) {
        const char *glue = at == 0 ? "" : hf_option_choice(option, at + 1) ? ", " : " or ";
        hf_text_addf(out, "%s%s", glue, hf_option_choice(option, at));
    }
}

void hf_option_expected(const hf_option *option, hf_text *out) {
    switch (option->type) {
    case HF_OPTION_FLAG:
        hf_text_add(out, "no value");
        return;
    case HF_OPTION_TEXT:
        hf_text_add(out, "a text that is not empty");
        return;
    case HF_OPTION_PATH:
        hf_text_add(out, "a file name");
        return;
    case HF_OPTION_LOAD:
        hf_text_add(out, "a load such as \"18 kg\", \"1.2kN\" or a bare number");
        return;
    case HF_OPTION_CHOICE:
        add_choices(option, out);
        return;
    case HF_OPTION_NUMBER:
    case HF_OPTION_COUNT:
        break;
    }
    hf_text_add(out, option->type == HF_OPTION_COUNT ? "a whole number" : "a number");
    if (has_limits(option)) hf_text_add(out, " ");
    add_limits(option, out);
}

/* "help: a or b (required; from 2 to 20; default: 3)" */
void hf_option_describe(const hf_option *option, hf_text *out) {
    const char *glue = " (";
    hf_text_add(out, option->help);
    if (option->type == HF_OPTION_CHOICE) {
        hf_text_add(out, ": ");
        add_choices(option, out);
    }
    if (option->required) {
        hf_text_addf(out, "%srequired", glue);
        glue = "; ";
    }
    if (has_limits(option)) {
        hf_text_add(out, glue);
        add_limits(option, out);
        glue = "; ";
    }
    if (option->preset) {
        hf_text_addf(out, "%sdefault: %s", glue, option->preset);
        glue = "; ";
    }
    if (*glue == ';') hf_text_add(out, ")");
}

static bool read_count(const char *text, uint64_t *out) {
    uint64_t value = 0;
    if (*text == '\0') return false;
    for (; *text; text++) {
        if (*text < '0' || *text > '9') return false;
        uint64_t digit = (uint64_t)(*text - '0');
        if (value > (UINT64_MAX - digit) / 10) return false;
        value = value * 10 + digit;
    }
    *out = value;
    return true;
}

static bool is_choice(const hf_option *option, const char *text) {
    for (size_t at = 0; hf_option_choice(option, at); at++) {
        if (strcmp(hf_option_choice(option, at), text) == 0) return true;
    }
    return false;
}

/* Text with a comma that is no decimal one for sure. */
static const char *comma_hint(const char *text) {
    return strchr(text, ',') ? "; write a decimal point, and nothing between thousands" : "";
}

/* The words of the load room are better than ours: they name the unit that was not known. */
static hf_status read_load(const hf_option *option, const char *text, hf_error *error) {
    hf_load load;
    hf_error inner;
    const hf_unit *newton = hf_unit_find("N", 1);
    hf_error_clear(&inner);
    if (hf_load_read(text, strlen(text), newton, &load, &inner) == HF_OK) return HF_OK;
    return hf_error_set(error, HF_USAGE, "option --%s: %s", option->name, inner.message);
}

static const char *nearest_choice(const hf_option *option, const char *text) {
    const char *candidates[CHOICE_LIMIT];
    size_t count = 0;
    for (; count < CHOICE_LIMIT && hf_option_choice(option, count); count++)
        candidates[count] = hf_option_choice(option, count);
    return hf_text_nearest(text, candidates, count);
}

static hf_status refuse(const hf_option *option, const char *text, hf_error *error) {
    hf_text expected = {0};
    hf_option_expected(option, &expected);
    const char *near = option->type == HF_OPTION_CHOICE ? nearest_choice(option, text) : NULL;
    hf_error_set(error, HF_USAGE, "option --%s: found \"%.60s\", expected %s%s%s%s", option->name, text,
                 expected.bytes ? expected.bytes : "something else", near ? "; the nearest is " : "",
                 near ? near : "", option->type == HF_OPTION_NUMBER ? comma_hint(text) : "");
    hf_text_free(&expected);
    return HF_USAGE;
}

static bool is_utf8(const char *text) {
    size_t length = strlen(text), at = 0, character = 1;
    while (at < length && (character = hf_text_character(text + at, length - at)) != 0) at += character;
    return character != 0;
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* The one comma of a number that it can only part from its decimals: 58,5 and 0,125, but not 1,234. NULL: there is none. */
static const char *decimal_comma(const char *text) {
    const char *comma = strchr(text, ',');
    if (!comma || comma == text || strchr(comma + 1, ',') || strchr(text, '.')) return NULL;
    size_t after = strspn(comma + 1, "0123456789");
    if (!is_digit(comma[-1]) || !after) return NULL;
    return after == 3 && text[0] != '0' ? NULL : comma;
}

const char *hf_option_plain(hf_arena *arena, const hf_option *option, const char *text, const char *unit) {
    bool load = option->type == HF_OPTION_LOAD;
    char number[HF_NUMBER_SIZE];
    double value;
    if (!load && option->type != HF_OPTION_NUMBER) return text;
    const char *comma = decimal_comma(text);
    if (comma) text = hf_arena_format(arena, "%.*s.%s", (int)(comma - text), text, comma + 1);
    if (text && load && unit) return hf_arena_format(arena, "%s %s", text, unit);
    size_t length = text && !load ? strlen(text) : 0, digits = length;
    if (!length || text[length - 1] != '%') return text;
    for (digits--; digits && text[digits - 1] == ' ';) digits--;
    if (!hf_number_read(text, digits, &value)) return text;
    if (option->maximum == 1) value = hf_number_round(value / 100, 15);
    return hf_arena_format(arena, "%s", hf_number_shortest(value, number));
}

hf_status hf_option_read(const hf_option *option, const char *text, hf_option_value *value, hf_error *error) {
    bool good = false;
    if (option->type != HF_OPTION_PATH && !is_utf8(text))
        return hf_error_set(
            error, HF_USAGE,
            "option --%s: found bytes that are no UTF-8, expected a text in UTF-8; type it anew",
            option->name);
    hf_option_value read = {.given = true, .text = text};
    switch (option->type) {
    case HF_OPTION_FLAG:
        good = *text == '\0';
        break;
    case HF_OPTION_TEXT:
    case HF_OPTION_PATH:
        good = *text != '\0';
        break;
    case HF_OPTION_CHOICE:
        good = is_choice(option, text);
        break;
    case HF_OPTION_NUMBER:
        good = hf_number_read(text, strlen(text), &read.number) && within(option, read.number);
        break;
    case HF_OPTION_COUNT:
        good = read_count(text, &read.count) && within(option, (double)read.count);
        break;
    case HF_OPTION_LOAD:
        if (read_load(option, text, error) != HF_OK) return HF_USAGE;
        good = true;
        break;
    }
    if (!good) return refuse(option, text, error);
    *value = read;
    return HF_OK;
}
