/* The day line by line: a key and Enter, nothing moves, nothing is drawn. For a screen reader, a log, any connection. */
#include "command/day.h"

#include <stdio.h>
#include <string.h>
#include "platform/clock.h"
#include "platform/files.h"
#include "platform/terminal.h"

/* What is typed, read past stdio so that a countdown can see whether a line waits. */
typedef struct typed_lines {
    char bytes[HF_DAY_LINE];
    size_t length;
    bool ended;
} typed_lines;

static bool has_line(const typed_lines *lines) {
    return lines->length && memchr(lines->bytes, '\n', lines->length);
}

/* Waits; false when the input has ended. */
static bool more_input(typed_lines *lines) {
    size_t room = sizeof lines->bytes - 1 - lines->length;
    long count = room ? hf_platform_read(0, lines->bytes + lines->length, room) : 0;
    if (count <= 0) lines->ended = true;
    if (count > 0) lines->length += (size_t)count;
    return count > 0;
}

/* The next line without its end and the blanks around it, in the arena; NULL when the input has ended. */
static const char *next_line(hf_day *d) {
    typed_lines *lines = d->state;
    while (!has_line(lines))
        if (!more_input(lines)) return NULL;
    size_t length = (size_t)((char *)memchr(lines->bytes, '\n', lines->length) - lines->bytes), start = 0,
           end = length;
    while (start < end && strchr(" \t\r", lines->bytes[start])) start++;
    while (end > start && strchr(" \t\r", lines->bytes[end - 1])) end--;
    const char *line = hf_arena_text(d->request->arena, lines->bytes + start, end - start);
    lines->length -= length + 1;
    memmove(lines->bytes, lines->bytes + length + 1, lines->length);
    return line;
}

static const char *ask(hf_day *d, const char *words) {
    hf_say("%s: ", words);
    return next_line(d);
}

static const char *key(hf_day *d) {
    return ask(d, "key");
}

static void say(hf_day *d, const char *words) {
    hf_text text = {0};
    hf_text_wrap(&text, words, d->request->terminal->width, "", "");
    hf_say("%s", text.bytes ? text.bytes : "");
    hf_text_free(&text);
}

static void keys(hf_day *d) {
    hf_text text = {0};
    for (const hf_day_key *row = hf_day_keys; row->meaning; row++) {
        char first[16];
        if (row->key)
            (void)snprintf(first, sizeof first, "  %c%-9s", row->key, row->behind);
        else
            (void)snprintf(first, sizeof first, "  %-10s", "(nothing)");
        hf_text_wrap(&text, row->meaning, d->request->terminal->width, first, "            ");
    }
    hf_say("What you can type, each with Enter:\n%s", text.bytes ? text.bytes : "");
    hf_text_free(&text);
}

static bool open(hf_day *d) {
    d->state = HF_ARENA_NEW(d->request->arena, typed_lines);
    return d->state != NULL;
}

static void close(hf_day *d) {
    (void)d;
}

static void intro(hf_day *d) {
    for (size_t i = 0; hf_day_caution(i); i++) say(d, hf_day_caution(i));
    hf_say("\n");
    keys(d);
}

static void show(hf_day *d) {
    const hf_sheet_rung *rung = &d->part->ladder->rungs[d->progress.held];
    hf_say("\n%s\n", hf_day_place(d));
    if (hf_day_doing(d)[0]) hf_say("  %s\n", hf_day_doing(d));
    if (rung->hangs[0]) hf_say("  then hangs %s\n", rung->hangs);
    hf_say("  %s, %s\n", hf_day_load(d, d->progress.held), hf_day_force(d));
}

/* Until the dwell is over or a line is typed. */
static void count_down(hf_day *d) {
    typed_lines *lines = d->state;
    double end = hf_platform_seconds() + d->dwell_s;
    double next = d->dwell_s;
    hf_say("hands off, %.0f s\n", d->dwell_s);
    while (!has_line(lines) && !lines->ended) {
        double left = end - hf_platform_seconds();
        if (left <= 0) {
            if (d->request->terminal->errors)
                fputc('\a', stderr); /* what is said has its control characters spelled out */
            hf_say("0: held? h or d\n");
            return;
        }
        if (left <= next - 10) {
            next -= 10;
            hf_say("%.0f\n", next);
        }
        if (hf_platform_input_within(left < 0.2 ? left : 0.2) && !more_input(lines)) return;
    }
}

const hf_day_view hf_day_lines = {open, close, intro, keys, say, show, count_down, key, ask};
