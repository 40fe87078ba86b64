/* Adding specimens to the text of a campaign in the layout that is there. */
#include <string.h>
#include "campaign/table.h"

static size_t line_start(const char *text, size_t at) {
    while (at > 0 && text[at - 1] != '\n') at--;
    return at;
}

static size_t indent_end(const char *text, size_t line) {
    while (text[line] == ' ' || text[line] == '\t') line++;
    return line;
}

static const char *line_end(const char *text, size_t line) {
    return line >= 2 && text[line - 2] == '\r' ? "\r\n" : "\n";
}

const char *hf_separator_like(hf_arena *arena, const char *text, size_t start) {
    size_t line = line_start(text, start), indent = indent_end(text, line);
    if (line == 0 || indent != start) return ", ";
    return hf_arena_format(arena, ",%s%.*s", line_end(text, line), (int)(indent - line), text + line);
}

/* Items one below the other, two blanks deeper than the line of byte `at`; one behind the other when the design stands in one line. */
typedef struct layout {
    const char *before, *between, *after;
} layout;

static bool layout_at(hf_arena *arena, const char *text, const hf_design *design, size_t at, layout *out) {
    *out = (layout){" ", ", ", " "};
    if (!memchr(text + design->node->start, '\n', design->node->end - design->node->start)) return true;
    size_t line = line_start(text, at), indent = indent_end(text, line);
    const char *end = line_end(text, line), *deeper = text[line] == '\t' ? "\t" : "  ";
    out->before = hf_arena_format(arena, "%s%.*s%s", end, (int)(indent - line), text + line, deeper);
    out->after = hf_arena_format(arena, "%s%.*s", end, (int)(indent - line), text + line);
    out->between = out->before ? hf_arena_format(arena, ",%s", out->before) : NULL;
    return out->between && out->after;
}

static void add_items(hf_text *out, const char *const *items, size_t count, const char *before,
                      const char *between) {
    for (size_t i = 0; i < count; i++) {
        hf_text_add(out, i ? between : before);
        hf_text_add(out, items[i]);
    }
}

static const hf_json *last_child(const hf_json *node) {
    const hf_json *last = node->first;
    while (last && last->next) last = last->next;
    return last;
}

hf_status hf_specimens_edit(hf_arena *arena, const char *text, const hf_design *design,
                            const char *const *items, size_t count, hf_json_edit *edit) {
    const hf_json *list = hf_json_get(design->node, "specimens"),
                  *last = last_child(list ? list : design->node);
    hf_text added = {0};
    layout form = {0};
    bool good = true;
    if (list && last) { /* behind the last specimen */
        const char *between = hf_separator_like(arena, text, last->start);
        edit->start = last->end;
        good = between != NULL;
        if (good) add_items(&added, items, count, between, between);
    } else if (list) { /* into the empty list; a line break that stands in it closes it */
        edit->start = list->start + 1;
        good = layout_at(arena, text, design, list->key_start, &form);
        if (good) add_items(&added, items, count, form.before, form.between);
        if (good && edit->start == list->end - 1) hf_text_add(&added, form.after);
    } else { /* a list of its own behind the last key */
        const char *between = hf_separator_like(arena, text, last->key_start);
        edit->start = last->end;
        good = between && layout_at(arena, text, design, last->key_start, &form);
        if (good) hf_text_addf(&added, "%s\"specimens\": [", between);
        if (good) add_items(&added, items, count, form.before, form.between);
        if (good) hf_text_addf(&added, "%s]", form.after);
    }
    edit->end = edit->start;
    edit->replacement = good && !added.failed ? hf_arena_text(arena, added.bytes, added.length) : NULL;
    hf_text_free(&added);
    return edit->replacement ? HF_OK : HF_MEMORY;
}
