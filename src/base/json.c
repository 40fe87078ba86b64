#include "holdfast/base/json.h"

#include <assert.h>
#include <cjson/cJSON.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/memory.h"
#include "platform/c_locale.h"
#include "base/json_scan.h"

static bool counts_memory;

static void *take_piece(size_t bytes) {
    return hf_memory_take(bytes, 1);
}

void hf_json_count_memory(void) {
    cJSON_Hooks hooks = {take_piece, hf_memory_free};
    cJSON_InitHooks(&hooks);
    counts_memory = true;
}

static hf_status misfit(hf_error *error) {
    return hf_error_set(error, HF_BAD_DATA, "the text cannot be read as JSON");
}

static char *copy_text(hf_arena *arena, const char *text) {
    return text ? hf_arena_text(arena, text, strlen(text)) : NULL;
}

/* The scanner and cJSON must have read the same thing. */
static bool is_twin(const hf_json *node, const cJSON *item) {
    static const int types[] = {
        [HF_JSON_NULL] = cJSON_NULL,     [HF_JSON_FALSE] = cJSON_False, [HF_JSON_TRUE] = cJSON_True,
        [HF_JSON_NUMBER] = cJSON_Number, [HF_JSON_TEXT] = cJSON_String, [HF_JSON_ARRAY] = cJSON_Array,
        [HF_JSON_OBJECT] = cJSON_Object};
    if ((item->type & 0xFF) != types[node->kind] || !node->key != !item->string) return false;
    return node->kind != HF_JSON_NUMBER || item->valuedouble == node->number;
}

/* Fills in texts and keys with escapes of one node from its cJSON twin; both lists go on by `next`. */
static hf_status tie(hf_arena *arena, hf_json *node, const cJSON *item, hf_error *error) {
    if (!is_twin(node, item)) return misfit(error);
    if (node->key && strchr(node->key, '\\')) {
        node->key = copy_text(arena, item->string);
        if (!node->key) return hf_error_set(error, HF_MEMORY, "out of memory");
    }
    if (node->kind == HF_JSON_TEXT) {
        node->text = copy_text(arena, item->valuestring);
        if (!node->text) return hf_error_set(error, HF_MEMORY, "out of memory");
    }
    const cJSON *twin = item->child;
    for (const hf_json *child = node->first; child; child = child->next, twin = twin->next) {
        if (!twin) return misfit(error);
        hf_status status = tie(arena, (hf_json *)child, twin, error);
        if (status != HF_OK) return status;
    }
    return twin ? misfit(error) : HF_OK;
}

static int compare_keys(const void *a, const void *b) {
    const hf_json *x = *(const hf_json *const *)a, *y = *(const hf_json *const *)b;
    int order = strcmp(x->key, y->key);
    return order ? order : (x->index > y->index) - (x->index < y->index);
}

/* The first member (in document order) whose key stood before, and that earlier one. */
static hf_status find_duplicate(const hf_json *object, const hf_json **again, const hf_json **earlier) {
    *again = NULL;
    if (object->count < 2) return HF_OK;
    const hf_json *few[32], **members = few;
    if (object->count > 32) members = hf_memory_take(object->count, sizeof *members);
    if (!members) return HF_MEMORY;
    size_t count = 0;
    for (const hf_json *child = object->first; child; child = child->next) members[count++] = child;
    qsort(members, count, sizeof *members, compare_keys);
    for (size_t i = 1; i < count; i++) {
        if (strcmp(members[i - 1]->key, members[i]->key) != 0) continue;
        if (*again && members[i]->index > (*again)->index) continue;
        *again = members[i];
        *earlier = members[i - 1];
    }
    if (members != few) hf_memory_free(members);
    return HF_OK;
}

static hf_status check_duplicates(const char *file, const hf_json *node, hf_error *error) {
    const hf_json *again = NULL, *earlier = NULL;
    if (node->kind == HF_JSON_OBJECT && find_duplicate(node, &again, &earlier) != HF_OK)
        return hf_error_set(error, HF_MEMORY, "out of memory");
    for (const hf_json *child = node->first; child && child != again; child = child->next) {
        hf_status status = child->first ? check_duplicates(file, child, error) : HF_OK;
        if (status != HF_OK) return status;
    }
    if (!again) return HF_OK;
    int shown = (int)hf_text_cut(again->key, 60);
    hf_status status = hf_error_set(error, HF_BAD_DATA, "found key \"%.*s\" twice, first in line %zu", shown,
                                    again->key, earlier->key_line);
    if (error) {
        error->where.file = file;
        error->where.line = again->key_line;
        error->where.column = again->key_column;
        hf_json_path(node, error->where.path, HF_PATH_SIZE);
    }
    return status;
}

hf_status hf_json_parse(hf_arena *arena, const char *file, const char *text, size_t length,
                        const hf_json **out, hf_error *error) {
    hf_json *root;
    hf_status status = hf_json_scan(arena, file, text, length, &root, error);
    if (status != HF_OK) return status;
    hf_c_locale scope; /* cJSON reads numbers by the locale's decimal point */
    if (!hf_c_locale_enter(&scope)) return hf_error_set(error, HF_MEMORY, "out of memory");
    size_t refusals = hf_memory_refusals();
    cJSON *tree = cJSON_ParseWithLength(text, length);
    hf_c_locale_leave(&scope);
    if (tree)
        status = tie(arena, root, tree, error);
    else if (!counts_memory || hf_memory_refusals() != refusals) /* the scanner took the text: it is JSON */
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    else
        status = misfit(error);
    cJSON_Delete(tree);
    if (status == HF_OK) status = check_duplicates(file, root, error);
    if (status == HF_OK) *out = root;
    return status;
}

const hf_json *hf_json_get(const hf_json *object, const char *key) {
    for (const hf_json *child = object->first; child; child = child->next)
        if (child->key && strcmp(child->key, key) == 0) return child;
    return NULL;
}

/* A path that does not fit is cut at its end. */
static size_t path_of(const hf_json *node, char *out, size_t size) {
    if (!node->parent) return 0;
    size_t used = path_of(node->parent, out, size);
    int added;
    if (used >= size) return used;
    if (node->parent->kind == HF_JSON_ARRAY)
        added = snprintf(out + used, size - used, "[%zu]", node->index);
    else
        added = snprintf(out + used, size - used, "%s%s", used ? "." : "", node->key ? node->key : "");
    return added < 0 ? used : used + (size_t)added;
}

void hf_json_path(const hf_json *node, char *out, size_t size) {
    out[0] = '\0';
    if (path_of(node, out, size) < size) return;
    /* cut: not through a character */
    size_t kept = 0, length = strlen(out);
    for (size_t step = 1; step && kept < length; kept += step)
        step = hf_text_character(out + kept, length - kept);
    out[kept] = '\0';
}

const char *hf_json_kind_name(hf_json_kind kind) {
    static const char *const names[] = {
        [HF_JSON_NULL] = "null",       [HF_JSON_FALSE] = "false", [HF_JSON_TRUE] = "true",
        [HF_JSON_NUMBER] = "a number", [HF_JSON_TEXT] = "a text", [HF_JSON_ARRAY] = "a list",
        [HF_JSON_OBJECT] = "an object"};
    return names[kind];
}

/* By place; insertions at one place come before a replacement that begins there, and in the order given. */
static int compare_edits(const void *a, const void *b) {
    const hf_json_edit *x = *(const hf_json_edit *const *)a, *y = *(const hf_json_edit *const *)b;
    if (x->start != y->start) return x->start < y->start ? -1 : 1;
    if (x->end != y->end) return x->end < y->end ? -1 : 1;
    return (x > y) - (x < y);
}

hf_status hf_json_splice(const char *text, size_t length, const hf_json_edit *edits, size_t count,
                         hf_text *out) {
    size_t at = 0;
    const hf_json_edit **sorted = hf_memory_take(count ? count : 1, sizeof *sorted);
    if (!sorted) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) sorted[i] = &edits[i];
    qsort(sorted, count, sizeof *sorted, compare_edits);
    for (size_t i = 0; i < count; i++) {
        const hf_json_edit *edit = sorted[i];
        assert(edit->start >= at && edit->end >= edit->start && edit->end <= length);
        hf_text_add_bytes(out, text + at, edit->start - at);
        hf_text_add(out, edit->replacement);
        at = edit->end;
    }
    hf_text_add_bytes(out, text + at, length - at);
    hf_memory_free(sorted);
    return out->failed ? HF_MEMORY : HF_OK;
}
