/* What the page calls: files in, one command, what it wrote and the files out. Texts are UTF-8 in the engine's own memory. */
#include <stdio.h>
#include <string.h>
#include "holdfast/base/json.h"
#include "holdfast/base/memory.h"
#include "holdfast/command/command.h"
#include "holdfast/numeric/parallel.h"
#include "platform/files_memory.h"

#define HF_PAGE_IMPORT(name) __attribute__((import_module("holdfast"), import_name(#name))) extern
#define HF_PAGE_EXPORT(name) __attribute__((export_name(#name)))

enum { WORDS_MOST = 64 };

/* How much of a long work is done, 0 to 1. */
HF_PAGE_IMPORT(progress) void hf_page_progress(double done);

void *hf_page_take(size_t bytes);
void hf_page_free(void *bytes);
int hf_page_put(const char *name, const char *bytes, size_t length);
void hf_page_forget(void);
int hf_page_run(char *words, size_t length);
const char *hf_page_file_name(size_t at);
const char *hf_page_file_bytes(size_t at);
size_t hf_page_file_length(size_t at);

HF_PAGE_EXPORT(take) void *hf_page_take(size_t bytes) {
    return hf_memory_take(bytes ? bytes : 1, 1);
}

HF_PAGE_EXPORT(free) void hf_page_free(void *bytes) {
    hf_memory_free(bytes);
}

/* 1, or 0 when memory has run out. */
HF_PAGE_EXPORT(put) int hf_page_put(const char *name, const char *bytes, size_t length) {
    return hf_platform_memory_put(name, bytes, length);
}

HF_PAGE_EXPORT(forget) void hf_page_forget(void) {
    hf_platform_memory_forget_all();
}

static void tell_progress(double done, void *context) {
    (void)context;
    hf_page_progress(done);
}

/* The words of a command line without the program's name, each with a zero byte behind it. Its exit code; -1: too many words. */
HF_PAGE_EXPORT(run) int hf_page_run(char *words, size_t length) {
    static char name[] = "holdfast";
    char *list[WORDS_MOST + 1] = {name};
    int count = 1;
    for (char *word = words; word < words + length; word += strlen(word) + 1) {
        if (count > WORDS_MOST) return -1;
        list[count++] = word;
    }
    hf_json_count_memory();
    hf_parallel_set_progress(tell_progress, NULL);
    int code = hf_command_main(count, list);
    (void)fflush(NULL);
    return code;
}

/* Of file `at`; no name past the last. */
HF_PAGE_EXPORT(file_name) const char *hf_page_file_name(size_t at) {
    const char *bytes;
    size_t length;
    return hf_platform_memory_at(at, &bytes, &length);
}

HF_PAGE_EXPORT(file_bytes) const char *hf_page_file_bytes(size_t at) {
    const char *bytes = NULL;
    size_t length;
    (void)hf_platform_memory_at(at, &bytes, &length);
    return bytes;
}

HF_PAGE_EXPORT(file_length) size_t hf_page_file_length(size_t at) {
    const char *bytes;
    size_t length = 0;
    (void)hf_platform_memory_at(at, &bytes, &length);
    return length;
}
