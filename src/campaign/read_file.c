/* A campaign from its file, with what the journal beside it says. */
#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/text.h"
#include "holdfast/campaign/late.h"

hf_status hf_campaign_read(hf_arena *arena, const char *path, const hf_campaign **out, hf_findings *findings,
                           hf_error *error) {
    hf_text text = {0};
    *out = NULL;
    memset(findings, 0, sizeof *findings);
    hf_error_clear(error);
    hf_status status =
        hf_file_is_pipe(path)
            ? hf_error_set(error, HF_FILE,
                           "%s: is a pipe, expected a file; to read what comes out of it, type - "
                           "and send it to standard input",
                           path)
            : hf_file_read(path, HF_CAMPAIGN_LIMIT_BYTES, &text, error);
    if (status == HF_OK) {
        char *copy = hf_arena_text(arena, text.bytes, text.length);
        status = copy ? hf_campaign_parse(arena, path, copy, text.length, out, findings)
                      : hf_error_set(error, HF_MEMORY, "out of memory");
    }
    if (status == HF_OK && strcmp(path, "-") != 0) status = hf_late_look_back(path, *out);
    hf_text_free(&text);
    return status;
}
