#include "holdfast/base/number.h"

#include <float.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "platform/c_locale.h"

static size_t digits_from(const char *text, size_t at, size_t length) {
    while (at < length && text[at] >= '0' && text[at] <= '9') at++;
    return at;
}

/* sign? (digits [. digits?] | . digits) (e sign? digits)? and nothing else */
static bool is_decimal(const char *text, size_t length) {
    size_t at = length && (text[0] == '-' || text[0] == '+') ? 1 : 0, start = at;
    at = digits_from(text, at, length);
    size_t digits = at - start;
    if (at < length && text[at] == '.') {
        size_t end = digits_from(text, at + 1, length);
        digits += end - at - 1;
        at = end;
    }
    if (!digits) return false;
    if (at < length && (text[at] == 'e' || text[at] == 'E')) {
        at++;
        if (at < length && (text[at] == '-' || text[at] == '+')) at++;
        size_t end = digits_from(text, at, length);
        if (end == at) return false;
        at = end;
    }
    return at == length;
}

/* strtod of text[0..length], zero-terminated, all of which must be used. */
static bool convert(const char *text, size_t length, double *out) {
    hf_c_locale scope;
    char *end;
    if (!hf_c_locale_enter(&scope)) {
        hf_memory_count_refusal();
        return false;
    }
    double value = strtod(text, &end);
    hf_c_locale_leave(&scope);
    if (end != text + length || !isfinite(value)) return false;
    *out = value;
    return true;
}

bool hf_number_read(const char *text, size_t length, double *out) {
    char small[64], *copy = small;
    if (!is_decimal(text, length)) return false;
    if (length >= sizeof small && !(copy = hf_memory_take(length + 1, 1))) return false;
    memcpy(copy, text, length);
    copy[length] = '\0';
    bool good = convert(copy, length, out);
    if (copy != small) hf_memory_free(copy);
    return good;
}

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
print(char out[HF_NUMBER_SIZE], const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    (void)hf_c_locale_format(out, HF_NUMBER_SIZE, format, arguments);
    va_end(arguments);
}

/* The value of a text that print has made; infinite when rounding has carried it there. */
static double read_back(const char *text) {
    double value = text[0] == '-' ? -INFINITY : INFINITY;
    (void)convert(text, strlen(text), &value);
    return value;
}

const char *hf_number_shortest(double value, char out[HF_NUMBER_SIZE]) {
    if (value == 0) return strcpy(out, "0");
    /* Fifteen figures always survive the way there and back, except where a double has lost figures of its own. */
    int figures = fabs(value) < DBL_MIN ? 1 : 15;
    for (; figures <= 17; figures++) {
        print(out, "%.*g", figures, value);
        if (read_back(out) == value) break;
    }
    return out;
}

const char *hf_number_figures(double value, int figures, char out[HF_NUMBER_SIZE]) {
    if (!isfinite(value)) return strcpy(out, "-");
    if (value == 0) return strcpy(out, "0");
    print(out, "%.*e", figures - 1, value);
    int exponent = atoi(strchr(out, 'e') + 1); /* after rounding: 9.996 with 3 figures is 10.0 */
    if (exponent >= -4 && exponent < 7) {
        int decimals = figures - 1 - exponent;
        double rounded = decimals < 0 ? read_back(out) : value;
        print(out, "%.*f", decimals > 0 ? decimals : 0, rounded);
    }
    return out;
}

const char *hf_number_percent(double share, int figures, char out[HF_NUMBER_SIZE]) {
    enum { MOST_FIGURES = 17 };
    double percent = 100 * share, whole = floor(percent + 0.5);
    if (fabs(percent - whole) < 1e-9 && (whole != 100 || share >= 1)) return hf_number_shortest(whole, out);
    hf_number_figures(percent, figures, out);
    while (share < 1 && read_back(out) >= 100 && figures < MOST_FIGURES)
        hf_number_figures(percent, ++figures, out);
    return out;
}

double hf_number_round(double value, int figures) {
    char text[HF_NUMBER_SIZE];
    if (!isfinite(value) || value == 0) return value;
    print(text, "%.*e", figures - 1, value);
    return read_back(text);
}

/* The digits of "d.ddde±xx" as one whole number. */
static long long digits_of(const char *text) {
    long long whole = 0;
    for (; *text && *text != 'e'; text++)
        if (*text >= '0' && *text <= '9') whole = whole * 10 + (*text - '0');
    return whole;
}

double hf_number_round_down(double value, int figures) {
    char text[HF_NUMBER_SIZE];
    if (!isfinite(value) || value == 0) return value;
    /* Nearest number of that many figures, read back from its own decimal text; one unit down when it lies above. */
    print(text, "%.*e", figures - 1, value);
    double nearest = read_back(text);
    double slack = 4 * (fabs(value) - nextafter(fabs(value), 0));
    if (nearest - value <= slack) return nearest;
    int shift = atoi(strchr(text, 'e') + 1) - (figures - 1);
    long long whole = digits_of(text) + (value < 0 ? 1 : -1), least = 1;
    for (int i = 1; i < figures; i++) least *= 10;
    /* 100 − 1 at three figures would leave two: the next number down is 99.9 */
    if (value > 0 && whole < least) {
        whole = whole * 10 + 9;
        shift--;
    }
    print(text, "%s%llde%d", value < 0 ? "-" : "", whole, shift);
    return read_back(text);
}
