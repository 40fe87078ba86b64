#include "holdfast/load/unit.h"

#include <stdio.h>
#include <string.h>
#include "holdfast/base/number.h"
#include "holdfast/base/text.h"

/* Exact by definition: the pound is 0.45359237 kg (1959), kgf and lbf use 9.80665 m/s². */
static const hf_unit table[] = {
    {"N", "newton (force)", 1, false},
    {"daN", "decanewton (force)", 10, false},
    {"kN", "kilonewton (force)", 1000, false},
    {"MN", "meganewton (force)", 1e6, false},
    {"kgf", "kilogram-force (force)", 9.80665, false},
    {"lbf", "pound-force (force)", 4.4482216152605, false},
    {"kg", "kilogram (mass on the hook)", 1, true},
    {"g", "gram (mass on the hook)", 0.001, true},
    {"t", "tonne (mass on the hook)", 1000, true},
    {"lb", "pound (mass on the hook)", 0.45359237, true},
    {"oz", "ounce (mass on the hook)", 0.028349523125, true},
    {"st", "stone (mass on the hook)", 6.35029318, true},
};

enum { ROWS = sizeof table / sizeof *table, LONGEST_NUMBER = 63 };

const hf_unit *hf_unit_table(size_t *count) {
    *count = ROWS;
    return table;
}

const hf_unit *hf_unit_find(const char *name, size_t length) {
    for (size_t i = 0; i < ROWS; i++)
        if (strlen(table[i].name) == length && memcmp(table[i].name, name, length) == 0) return &table[i];
    return NULL;
}

double hf_unit_newtons(const hf_unit *unit, double gravity) {
    return unit->is_mass ? unit->factor * gravity : unit->factor;
}

static void list_units(char out[], size_t size) {
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < ROWS && used < size; i++)
        used += (size_t)snprintf(out + used, size - used, "%s%s", i ? " " : "", table[i].name);
}

/* At most `most` bytes, not cutting a character. */
static size_t whole_characters(const char *text, size_t length, size_t most) {
    size_t kept = 0;
    for (size_t step = 1; step && kept < length; kept += step) {
        step = hf_text_character(text + kept, length - kept);
        if (kept + step > most) break;
    }
    return kept;
}

static hf_status unknown_unit(const char *name, size_t length, hf_error *error) {
    const char *names[ROWS];
    char word[32], all_units[16 * ROWS];
    size_t shown = whole_characters(name, length, sizeof word - 1);
    memcpy(word, name, shown);
    word[shown] = '\0';
    list_units(all_units, sizeof all_units);
    for (size_t i = 0; i < ROWS; i++) names[i] = table[i].name;
    const char *nearest = hf_text_nearest(word, names, ROWS);
    if (nearest)
        return hf_error_set(error, HF_BAD_DATA, "found unit \"%s\", expected one of %s; nearest is \"%s\"",
                            word, all_units, nearest);
    return hf_error_set(error, HF_BAD_DATA, "found unit \"%s\", expected one of %s", word, all_units);
}

static bool is_space(char c) {
    return c == ' ' || c == '\t';
}

/* Where the number ends: the longest start that reads as one ("1e3 N", but "3 e" is no exponent). */
static size_t number_length(const char *text, size_t length, double *value) {
    size_t end = 0;
    while (end < length && end < LONGEST_NUMBER && text[end] && strchr("+-.0123456789eE", text[end])) end++;
    for (; end > 0; end--)
        if (hf_number_read(text, end, value)) return end;
    return 0;
}

hf_status hf_load_read(const char *text, size_t length, const hf_unit *bare, hf_load *out, hf_error *error) {
    double value = 0;
    while (length && is_space(text[0])) text++, length--;
    while (length && is_space(text[length - 1])) length--;
    int shown = (int)whole_characters(text, length, 40);
    size_t digits = number_length(text, length, &value), at = digits;
    if (!digits)
        return hf_error_set(error, HF_BAD_DATA,
                            "found \"%.*s\", expected a load such as \"18 kg\" or \"1.2 kN\"", shown, text);
    while (at < length && is_space(text[at])) at++;
    const hf_unit *unit = at < length ? hf_unit_find(text + at, length - at) : bare;
    if (at < length && !unit && text[at] == ',')
        return hf_error_set(error, HF_BAD_DATA,
                            "found \"%.*s\", expected a decimal point and nothing between thousands", shown,
                            text);
    if (at < length && !unit) return unknown_unit(text + at, length - at, error);
    if (!unit)
        return hf_error_set(error, HF_BAD_DATA,
                            "found \"%.*s\" without a unit, expected one such as \"18 kg\"", shown, text);
    if (value < 0)
        return hf_error_set(error, HF_BAD_DATA, "found \"%.*s\", expected a load of 0 or more", shown, text);
    *out = (hf_load){value, unit};
    return HF_OK;
}

double hf_load_newtons(hf_load load, double gravity) {
    return load.value * hf_unit_newtons(load.unit, gravity);
}
