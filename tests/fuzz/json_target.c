/* Any bytes at all as JSON. Promises checked:
 *   - never a crash; a refusal names a line and a column that lie in the text;
 *   - what is accepted, the scanner and cJSON have read alike;
 *   - places nest and follow each other: a child lies inside its parent, a sibling behind its elder, a value behind its key;
 *   - numbers are finite and the bytes of a value, read alone, are that value again;
 *   - written by our writer and read again, the tree is the same;
 *   - cutting out a value and putting the same bytes in leaves every byte as it was. */
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "fuzz/must.h"
#include "holdfast/base/json.h"
#include "holdfast/base/number.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Lines and the characters of the longest line, to bound the place of a refusal. */
static void check_refusal(const char *text, size_t length, const hf_error *error) {
    size_t lines = 1;
    for (size_t i = 0; i < length; i++) lines += text[i] == '\n';
    MUST(error->status == HF_BAD_DATA && error->message[0]);
    MUST(error->where.line >= 1 && error->where.line <= lines);
    MUST(error->where.column >= 1 && error->where.column <= length + 1);
    MUST(memchr(error->where.path, '\0', HF_PATH_SIZE) != NULL);
}

static void check_scalar(const char *text, const hf_json *node) {
    double again;
    if (node->kind == HF_JSON_TEXT)
        MUST(node->text && text[node->start] == '"' && text[node->end - 1] == '"');
    if (node->kind != HF_JSON_NUMBER) return;
    MUST(isfinite(node->number));
    MUST(hf_number_read(text + node->start, node->end - node->start, &again) && again == node->number);
}

static void check_places(const char *text, size_t length, const hf_json *node) {
    size_t at = node->start, count = 0;
    MUST(node->start < node->end && node->end <= length);
    MUST(node->line >= 1 && node->column >= 1);
    check_scalar(text, node);
    for (const hf_json *child = node->first; child; child = child->next) {
        MUST(child->parent == node && child->index == count++);
        MUST((child->key != NULL) == (node->kind == HF_JSON_OBJECT));
        MUST(child->start > at && child->end < node->end);
        if (child->key)
            MUST(child->key_start > at && child->key_start < child->start && text[child->key_start] == '"');
        check_places(text, length, child);
        at = child->end - 1;
    }
    MUST(count == node->count);
}

static void write_node(hf_json_writer *writer, const hf_json *node) {
    switch (node->kind) {
    case HF_JSON_NULL:
        hf_json_add_null(writer, node->key, NULL);
        return;
    case HF_JSON_FALSE:
    case HF_JSON_TRUE:
        hf_json_add_bool(writer, node->key, node->kind == HF_JSON_TRUE);
        return;
    case HF_JSON_NUMBER:
        hf_json_add_number(writer, node->key, node->number);
        return;
    case HF_JSON_TEXT:
        hf_json_add_text(writer, node->key, node->text);
        return;
    case HF_JSON_ARRAY:
        hf_json_open_array(writer, node->key);
        break;
    case HF_JSON_OBJECT:
        hf_json_open_object(writer, node->key);
        break;
    }
    for (const hf_json *child = node->first; child; child = child->next) write_node(writer, child);
    hf_json_close(writer, node->kind == HF_JSON_ARRAY);
}

static void check_same(const hf_json *a, const hf_json *b) {
    MUST(a->kind == b->kind && a->count == b->count && a->index == b->index);
    MUST(!a->key == !b->key && (!a->key || strcmp(a->key, b->key) == 0));
    if (a->kind == HF_JSON_NUMBER) MUST(a->number == b->number);
    if (a->kind == HF_JSON_TEXT) MUST(strcmp(a->text, b->text) == 0);
    const hf_json *y = b->first;
    for (const hf_json *x = a->first; x; x = x->next, y = y->next) check_same(x, y);
}

static void check_written(hf_arena *arena, const hf_json *root) {
    hf_text out = {0};
    hf_json_writer writer;
    const hf_json *again;
    hf_json_writer_start(&writer, &out);
    write_node(&writer, root);
    MUST(!out.failed && hf_json_parse(arena, NULL, out.bytes, out.length, &again, NULL) == HF_OK);
    check_same(root, again);
    hf_text_free(&out);
}

static void check_splice(hf_arena *arena, const char *text, size_t length, const hf_json *root) {
    const hf_json *node = root->first && root->first->next ? root->first->next : root;
    char *same = hf_arena_text(arena, text + node->start, node->end - node->start);
    hf_text out = {0};
    hf_json_edit edit = {node->start, node->end, same};
    MUST(same && hf_json_splice(text, length, &edit, 1, &out) == HF_OK);
    MUST(out.length == length && memcmp(out.bytes, text, length) == 0);
    hf_text_free(&out);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *text = (const char *)data;
    const hf_json *root = NULL;
    hf_error error;
    hf_arena *arena = hf_arena_create();
    MUST(arena);
    if (hf_json_parse(arena, "fuzz.json", text, size, &root, &error) != HF_OK) {
        check_refusal(text, size, &error);
        MUST(strcmp(error.message, "the text cannot be read as JSON") !=
             0); /* scanner and cJSON must agree */
    } else {
        check_places(text, size, root);
        check_written(arena, root);
        check_splice(arena, text, size, root);
    }
    hf_arena_free(arena);
    return 0;
}
