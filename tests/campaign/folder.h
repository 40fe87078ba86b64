/* Files of a test folder, and what the campaign reader says about one. */
#ifndef HF_TESTS_CAMPAIGN_FOLDER_H
#define HF_TESTS_CAMPAIGN_FOLDER_H

#include <stddef.h>
#include "holdfast/base/text.h"

enum { HF_FOLDER_PATH = 512 };

/* Names (sorted) of the files of `folder` that end with `ending`. Free with hf_folder_free. */
typedef struct hf_folder {
    char **names;
    size_t count;
} hf_folder;

hf_folder hf_folder_list(const char *folder, const char *ending);
void hf_folder_free(hf_folder *folder);

/* Whole file into *out; fails the test when it cannot be read. */
void hf_folder_read(const char *folder, const char *name, hf_text *out);

/* Whether HF_UPDATE=1 asks for expectations to be written anew. */
int hf_folder_update(void);
void hf_folder_write(const char *folder, const char *name, const hf_text *text);

#endif
