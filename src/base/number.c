#include "holdfast/base/number.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

/* strtod and printf use the locale's decimal point; this is what it is now. */
static char decimal_point(void) {
    const struct lconv *conventions = localeconv();
    return conventions && conventions->decimal_point && conventions->decimal_point[0] ? conventions->decimal_point[0] : '.';
}

bool hf_number_read(const char *text, size_t length, double *out) {
    char small[64], *copy = small, *end;
    if (!is_decimal(text, length)) return false;
    if (length >= sizeof small && !(copy = malloc(length + 1))) return false;
    memcpy(copy, text, length);
    copy[length] = '\0';
    char *point = strchr(copy, '.');
    if (point) *point = decimal_point();
    double value = strtod(copy, &end);
    bool whole = end == copy + length;
    if (copy != small) free(copy);
    if (!whole || !isfinite(value)) return false;
    *out = value;
    return true;
}

static void with_point(char *text) {
    char *point = strchr(text, decimal_point());
    if (point) *point = '.';
}

const char *hf_number_shortest(double value, char out[HF_NUMBER_SIZE]) {
    if (value == 0) value = 0; /* −0 is written as 0 */
    for (int figures = 15; figures <= 17; figures++) {
        (void)snprintf(out, HF_NUMBER_SIZE, "%.*g", figures, value);
        if (strtod(out, NULL) == value) break;
    }
    with_point(out);
    return strcmp(out, "-0") == 0 ? strcpy(out, "0") : out;
}

const char *hf_number_figures(double value, int figures, char out[HF_NUMBER_SIZE]) {
    if (!isfinite(value)) return strcpy(out, "-");
    if (value == 0) return strcpy(out, "0");
    (void)snprintf(out, HF_NUMBER_SIZE, "%.*e", figures - 1, value);
    int exponent = atoi(strchr(out, 'e') + 1); /* after rounding: 9.996 with 3 figures is 10.0 */
    if (exponent >= -4 && exponent < 7) {
        int decimals = figures - 1 - exponent;
        double rounded = decimals < 0 ? strtod(out, NULL) : value;
        (void)snprintf(out, HF_NUMBER_SIZE, "%.*f", decimals > 0 ? decimals : 0, rounded);
    }
    with_point(out);
    return out;
}

double hf_number_round_down(double value, int figures) {
    char text[HF_NUMBER_SIZE];
    if (!isfinite(value) || value == 0) return value;
    /* Nearest number of that many figures, read back from its own decimal text; one unit down when it lies above. */
    (void)snprintf(text, sizeof text, "%.*e", figures - 1, value);
    double nearest = strtod(text, NULL);
    double slack = 4 * (nextafter(fabs(value), INFINITY) - fabs(value));
    if (nearest <= value + slack) return nearest;
    char *mark = strchr(text, 'e');
    int exponent = atoi(mark + 1);
    char digits[HF_NUMBER_SIZE];
    size_t count = 0;
    for (const char *c = text; c < mark; c++)
        if (*c >= '0' && *c <= '9') digits[count++] = *c;
    digits[count] = '\0';
    long long whole = atoll(digits) + (value < 0 ? 1 : -1);
    /* 100 − 1 at three figures would leave two: the next number down is 99.9 */
    int shift = exponent - (figures - 1);
    if (value > 0 && figures > 1 && whole < (long long)llround(pow(10, figures - 1))) {
        whole = whole * 10 + 9;
        shift--;
    } else if (value > 0 && whole == 0) {
        whole = 9;
        shift--;
    }
    (void)snprintf(text, sizeof text, "%s%llde%d", value < 0 ? "-" : "", whole, shift);
    return strtod(text, NULL);
}
