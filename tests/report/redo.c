#include "report/redo.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct reader {
    const char *at;
    redone *out;
    bool bad;
} reader;

static bool take(reader *r, const char *word) {
    while (*r->at == ' ') r->at++;
    size_t length = strlen(word);
    if (strncmp(r->at, word, length) != 0) return false;
    r->at += length;
    return true;
}

static bool at_number(const char *s) {
    return (*s >= '0' && *s <= '9') || *s == '.';
}

static double number(reader *r, double *unit, int *figures) {
    char *end;
    double value = strtod(r->at, &end), scale = 1;
    bool point = false, started = false;
    int count = 0;
    for (const char *c = r->at; c < end; c++) {
        if (*c == 'e') {
            scale *= pow(10, atoi(c + 1));
            break;
        }
        if (*c == '.')
            point = true;
        else {
            started = started || *c != '0';
            count += started;
            if (point) scale /= 10;
        }
    }
    r->at = end;
    *unit = scale;
    *figures = point || count >= 5 ? count : 0;
    return value;
}

static double sum(reader *r);

static double atom(reader *r) {
    double value, unit;
    int figures;
    if (take(r, "−")) return -atom(r);
    if (take(r, "√("))
        value = sqrt(sum(r));
    else if (take(r, "e^("))
        value = exp(sum(r));
    else if (take(r, "("))
        value = sum(r);
    else {
        while (*r->at == ' ') r->at++;
        if (!at_number(r->at)) {
            r->bad = true;
            return NAN;
        }
        value = number(r, &unit, &figures);
        if (figures && figures < r->out->fewest) r->out->fewest = figures;
        if (figures > r->out->most) r->out->most = figures;
        return take(r, "²") ? value * value : value;
    }
    if (!take(r, ")")) r->bad = true;
    return value;
}

static double product(reader *r) {
    double value = atom(r);
    for (;;) {
        if (take(r, "×"))
            value *= atom(r);
        else if (take(r, "÷") || take(r, "/"))
            value /= atom(r);
        else
            return value;
    }
}

static double sum(reader *r) {
    double value = product(r);
    for (;;) {
        if (take(r, "+"))
            value += product(r);
        else if (take(r, "−"))
            value -= product(r);
        else
            return value;
    }
}

bool redo_line(const char *line, redone *out) {
    const char *equals = strstr(line, " = "), *colon = strstr(line, ": ");
    if (!equals) return false;
    const char *start = colon && colon < equals ? colon + 2 : equals + 3;
    *out = (redone){.fewest = 99};
    reader r = {start, out, false};
    out->value = sum(&r);
    if (take(&r, ", not below 0,")) out->value = fmax(0, out->value);
    if (r.bad || !take(&r, "=")) return false;
    int figures;
    double sign = take(&r, "−") ? -1 : 1;
    while (*r.at == ' ') r.at++;
    if (!at_number(r.at)) return false;
    out->printed = sign * number(&r, &out->unit, &figures);
    return true;
}

size_t redo_all(const char *report, const char *about) {
    size_t count = 0;
    bool down = strstr(report, "Results are rounded down.") && !strstr(report, "Results are rounded so far");
    for (const char *at = report; *at; at++) {
        const char *end = strchr(at, '\n');
        char line[400];
        size_t length = end ? (size_t)(end - at) : strlen(at);
        if (length > 2 && length < sizeof line && at[0] == ' ' && at[1] == ' ' && at[2] != ' ') {
            memcpy(line, at, length);
            line[length] = '\0';
            redone r;
            if (strstr(line, " = ") && !strstr(line, " from below of ")) { /* a load picked, not computed */
                ck_assert_msg(redo_line(line, &r), "%s: cannot be redone: %s", about, line);
                ck_assert_msg(fabs(r.value - r.printed) <= r.unit,
                              "%s: redone gives %.9g, one unit is %g: %s", about, r.value, r.unit, line);
                if (down)
                    ck_assert_msg(r.printed <= r.value + 1e-6 * r.unit && r.printed > r.value - r.unit,
                                  "%s: redone gives %.12g, which rounds down to another: %s", about, r.value,
                                  line);
                count++;
            }
        }
        if (!end) break;
        at = end;
    }
    return count;
}
