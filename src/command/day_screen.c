/* The day on the whole terminal: one key each, large figures, a countdown that stands still; without colour, from 40 columns and 12 rows. */
#include "command/day.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include "command/day_letters.h"
#include "platform/clock.h"
#include "platform/screen.h"

enum { TALL = 20 /* rows from which figures are larger and all keys stand below */, LONG_WAIT_S = 3600 };

typedef struct day_screen {
    hf_text said;       /* paragraphs since the last key */
    double dwell_end;   /* NaN: no countdown */
    bool over;          /* the dwell is over, and it has not been said what became of it */
    const char *prompt; /* a question is open; NULL: none */
    char typed[HF_DAY_LINE];
    size_t length;
    size_t columns, rows;
} day_screen;

/* --- Drawing ----------------------------------------------------------------------------------------- */

/* One row of text, cut where the screen ends. */
static void put(const day_screen *s, size_t row, size_t column, const char *words, bool strong) {
    if (column >= s->columns) return;
    hf_text text = {0};
    hf_text_add_visible(&text, words, strlen(words), false);
    if (text.length) {
        text.bytes[hf_text_cut(text.bytes, s->columns - column)] = '\0';
        hf_platform_screen_put(row, column, text.bytes, strong);
    }
    hf_text_free(&text);
}

/* The lines of `text` from its line `from` on, into rows [row, end); returns the row behind them. */
static size_t put_lines(const day_screen *s, const hf_text *text, size_t from, size_t row, size_t end) {
    const char *line = text->bytes;
    char one[HF_DAY_LINE];
    for (size_t at = 0; line && *line && row < end; at++) {
        size_t length = strcspn(line, "\n");
        (void)snprintf(one, sizeof one, "%.*s", (int)length, line);
        if (at >= from) put(s, row++, 0, one, false);
        line += length + (line[length] == '\n');
    }
    return row;
}

static size_t lines_of(const hf_text *text) {
    size_t count = 0;
    for (size_t i = 0; i < text->length; i++) count += text->bytes[i] == '\n';
    return count;
}

/* Wrapped into rows [row, end), its last lines where not all fit; returns the row behind them. */
static size_t put_wrapped(const day_screen *s, const char *words, size_t row, size_t end) {
    hf_text text = {0};
    hf_text_wrap(&text, words, s->columns, "", "");
    size_t count = lines_of(&text), room = end > row ? end - row : 0;
    row = put_lines(s, &text, count > room ? count - room : 0, row, end);
    hf_text_free(&text);
    return row;
}

static size_t put_large(const day_screen *s, const char *words, size_t row, size_t end) {
    size_t size = s->rows >= TALL ? 2 : 1;
    while (size && hf_letters_columns(words, size) > s->columns) size--;
    if (!size || row + hf_letters_rows(size) > end) return put_wrapped(s, words, row, end);
    for (size_t i = 0; i < hf_letters_rows(size); i++) {
        char line[HF_LETTERS_LINE];
        hf_letters_row(words, size, i, line);
        put(s, row++, 0, line, true);
    }
    return row;
}

static double seconds_left(const day_screen *s) {
    return isnan(s->dwell_end) ? 0 : s->dwell_end - hf_platform_seconds();
}

static void draw_keys(hf_text *out) {
    for (const hf_day_key *row = hf_day_keys; row->meaning; row++)
        hf_text_addf(out, "%s%.*s %s", row == hf_day_keys ? "" : ", ", row->key ? 1 : 5,
                     row->key ? &row->key : "Enter", row->brief);
}

/* What stands at the bottom: the question, or the keys. Returns its first row. */
static size_t draw_bottom(const day_screen *s) {
    hf_text text = {0}, lines = {0};
    if (s->prompt)
        hf_text_addf(&text, "%s: %.*s", s->prompt, (int)s->length, s->typed);
    else if (s->rows >= TALL)
        draw_keys(&text);
    else
        hf_text_add(&text, "Enter dwell, h held, a d failed, ? keys");
    hf_text visible = {0};
    if (text.bytes) hf_text_add_visible(&visible, text.bytes, text.length, false);
    if (visible.bytes) hf_text_wrap(&lines, visible.bytes, s->columns, "", "");
    size_t count = lines_of(&lines), row = count < s->rows ? s->rows - count : 0;
    (void)put_lines(s, &lines, count > s->rows ? count - s->rows : 0, row, s->rows);
    hf_text_free(&text);
    hf_text_free(&visible);
    hf_text_free(&lines);
    return row;
}

static void draw_head(const hf_day *d, const day_screen *s) {
    char left[32];
    int length = snprintf(left, sizeof left, "%zu to pull", d->sheet->part_count);
    put(s, 0, 0, hf_day_place(d), true);
    if (hf_text_columns(hf_day_place(d)) + (size_t)length + 2 <= s->columns)
        put(s, 0, s->columns - (size_t)length, left, false);
}

static void draw(hf_day *d) {
    day_screen *s = d->state;
    const hf_sheet_rung *rung = &d->part->ladder->rungs[d->progress.held];
    char line[HF_DAY_LINE];
    hf_platform_screen_size(&s->columns, &s->rows);
    hf_platform_screen_clear();
    draw_head(d, s);
    size_t row = 1, end = draw_bottom(s), gap = s->rows >= TALL;
    if (hf_day_doing(d)[0]) row = put_wrapped(s, hf_day_doing(d), row + gap, end);
    (void)snprintf(line, sizeof line, "then hangs %s", rung->hangs);
    if (rung->hangs[0]) row = put_wrapped(s, line, row, end);
    bool counts = !isnan(s->dwell_end) || s->over;
    (void)snprintf(line, sizeof line, "%.0f s", ceil(seconds_left(s)));
    row = put_large(s, counts ? line : hf_day_load(d, d->progress.held), row + gap, end);
    (void)snprintf(line, sizeof line, "%s%s", counts ? "hands off; " : "", hf_day_force(d));
    row = put_wrapped(s, s->over ? "0: held? h or d" : line, row, end);
    size_t count = lines_of(&s->said), room = end > row ? end - row : 0;
    if (count < room) row += gap;
    if (s->said.length) (void)put_wrapped(s, s->said.bytes, row, end);
    hf_platform_screen_show();
}

/* --- Keys -------------------------------------------------------------------------------------------- */

/* The next key; meanwhile the countdown goes on and the screen takes its new size. */
static int next_key(hf_day *d) {
    day_screen *s = d->state;
    for (;;) {
        if (!isnan(s->dwell_end) && seconds_left(s) <= 0) {
            s->dwell_end = NAN;
            s->over = true;
            hf_platform_screen_bell();
        }
        draw(d);
        double left = seconds_left(s); /* what is shown changes when it is whole */
        int key = hf_platform_screen_key(isnan(s->dwell_end) ? LONG_WAIT_S : left - ceil(left) + 1.001);
        if (key != HF_SCREEN_NOTHING && key != HF_SCREEN_RESIZED) return key;
    }
}

/* Takes the last character away, all its bytes. */
static void erase_last(day_screen *s) {
    while (s->length && ((unsigned char)s->typed[--s->length] & 0xC0) == 0x80) continue;
}

static const char *ask(hf_day *d, const char *words) {
    day_screen *s = d->state;
    s->prompt = words;
    s->length = 0;
    int key;
    while ((key = next_key(d)) != HF_SCREEN_ENTER && key != HF_SCREEN_ENDED) {
        if (key == HF_SCREEN_ERASE)
            erase_last(s);
        else if (key == HF_SCREEN_ESCAPE)
            s->length = 0;
        else if (key >= ' ' && s->length < HF_DAY_LINE - 4)
            s->typed[s->length++] = (char)key;
    }
    s->prompt = NULL;
    while (s->length && s->typed[s->length - 1] == ' ') s->length--;
    size_t start = strspn(s->length ? s->typed : "", " ");
    return key == HF_SCREEN_ENDED ? NULL
                                  : hf_arena_text(d->request->arena, s->typed + start, s->length - start);
}

static const hf_day_key *row_of(int key) {
    const hf_day_key *row = hf_day_keys;
    while (row->meaning && row->key != (key == HF_SCREEN_ENTER ? '\0' : key)) row++;
    return row->meaning ? row : NULL;
}

static const char *key(hf_day *d) {
    day_screen *s = d->state;
    int typed = next_key(d);
    if (typed == HF_SCREEN_ENDED) return NULL;
    const hf_day_key *row = row_of(typed);
    hf_text_free(&s->said);
    if (!row) return "?";
    if (!row->behind[0]) { /* whatever it says of the part, the dwell is over */
        s->dwell_end = NAN;
        s->over = false;
        return hf_arena_text(d->request->arena, &row->key, row->key ? 1 : 0);
    }
    const char *words = ask(d, row->meaning);
    return words ? hf_arena_format(d->request->arena, "%c %s", row->key, words) : NULL;
}

/* --- Pages of words ---------------------------------------------------------------------------------- */

static void add_keys(hf_text *out, size_t width) {
    for (const hf_day_key *row = hf_day_keys; row->meaning; row++) {
        char first[16];
        (void)snprintf(first, sizeof first, "%-7.*s", row->key ? 1 : 5, row->key ? &row->key : "Enter");
        hf_text_wrap(out, row->meaning, width, first, "       ");
    }
}

static void add_intro(hf_text *out, size_t width) {
    for (size_t i = 0; hf_day_caution(i); i++) hf_text_wrap(out, hf_day_caution(i), width, "", "");
    hf_text_add(out, "\n");
    add_keys(out, width);
}

/* One screen after the other until all has been shown; a new size begins anew. */
static void show_pages(hf_day *d, void (*add)(hf_text *out, size_t width)) {
    day_screen *s = d->state;
    int typed = HF_SCREEN_RESIZED;
    for (size_t from = 0;;) {
        hf_text text = {0};
        hf_platform_screen_size(&s->columns, &s->rows);
        add(&text, s->columns);
        size_t room = s->rows > 1 ? s->rows - 1 : 1;
        bool all = from >= lines_of(&text);
        if (!all) {
            hf_platform_screen_clear();
            (void)put_lines(s, &text, from, 0, room);
            put(s, room, 0, "any key goes on", true);
            hf_platform_screen_show();
        }
        hf_text_free(&text);
        if (all) return;
        do typed = hf_platform_screen_key(LONG_WAIT_S);
        while (typed == HF_SCREEN_NOTHING);
        if (typed == HF_SCREEN_ENDED) return;
        from = typed == HF_SCREEN_RESIZED ? 0 : from + room;
    }
}

static void keys(hf_day *d) {
    show_pages(d, add_keys);
}

static void intro(hf_day *d) {
    show_pages(d, add_intro);
}

/* --- The view ---------------------------------------------------------------------------------------- */

static bool open(hf_day *d) {
    day_screen *s = HF_ARENA_NEW(d->request->arena, day_screen);
    if (!s || !hf_platform_screen_open()) return false;
    s->dwell_end = NAN;
    d->state = s;
    return true;
}

static void close(hf_day *d) {
    day_screen *s = d->state;
    hf_text_free(&s->said);
    hf_platform_screen_close();
}

static void say(hf_day *d, const char *words) {
    day_screen *s = d->state;
    hf_text_addf(&s->said, s->said.length ? " %s" : "%s", words);
}

/* Drawn when a key is waited for. */
static void show(hf_day *d) {
    (void)d;
}

static void count_down(hf_day *d) {
    day_screen *s = d->state;
    s->dwell_end = hf_platform_seconds() + d->dwell_s;
    s->over = false;
}

const hf_day_view hf_day_screen = {open, close, intro, keys, say, show, count_down, key, ask};
