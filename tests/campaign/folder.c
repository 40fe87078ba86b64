#include "campaign/folder.h"

#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "holdfast/base/file.h"

static int compare_names(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static int ends_with(const char *name, const char *ending) {
    size_t length = strlen(name), tail = strlen(ending);
    return length > tail && strcmp(name + length - tail, ending) == 0;
}

hf_folder hf_folder_list(const char *folder, const char *ending) {
    hf_folder list = {NULL, 0};
    DIR *handle = opendir(folder);
    ck_assert_msg(handle != NULL, "%s cannot be opened", folder);
    for (struct dirent *entry = readdir(handle); entry; entry = readdir(handle)) {
        if (!ends_with(entry->d_name, ending)) continue;
        list.names = realloc(list.names, (list.count + 1) * sizeof *list.names);
        ck_assert_ptr_nonnull(list.names);
        list.names[list.count++] = strdup(entry->d_name);
    }
    closedir(handle);
    if (list.count) qsort(list.names, list.count, sizeof *list.names, compare_names);
    return list;
}

void hf_folder_free(hf_folder *folder) {
    for (size_t i = 0; i < folder->count; i++) free(folder->names[i]);
    free(folder->names);
}

void hf_folder_read(const char *folder, const char *name, hf_text *out) {
    char path[HF_FOLDER_PATH];
    hf_error error;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    ck_assert_msg(hf_file_read(path, 1 << 26, out, &error) == HF_OK, "%s", error.message);
}

int hf_folder_update(void) {
    const char *update = getenv("HF_UPDATE");
    return update && strcmp(update, "1") == 0;
}

void hf_folder_write(const char *folder, const char *name, const hf_text *text) {
    char path[HF_FOLDER_PATH];
    hf_error error;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    ck_assert_msg(hf_file_replace(path, text->bytes ? text->bytes : "", text->length, &error) == HF_OK, "%s",
                  error.message);
}
