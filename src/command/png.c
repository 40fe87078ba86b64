#include "command/png.h"
#include <string.h>
#include "holdfast/base/number.h"
#include "platform/process.h"

bool hf_png_wanted(const hf_output_values *output) {
    static const char ending[] = ".png";
    const char *path = output->output.given ? output->output.text : "";
    size_t length = strlen(path), tail = sizeof ending - 1;
    return length > tail && strcmp(path + length - tail, ending) == 0;
}

static bool take_bytes(void *context, const char *bytes, size_t length) {
    hf_text_add_bytes(context, bytes, length);
    return !((hf_text *)context)->failed;
}

hf_status hf_png_make(hf_request *request, hf_text *picture, size_t width) {
    char dots[HF_NUMBER_SIZE];
    const char *const words[] = {HF_PNG_PROGRAM, "--format=png", width ? "--width" : NULL,
                                 hf_number_shortest((double)width, dots), NULL};
    hf_text out = {0};
    hf_platform_filtered done = hf_platform_filter(words, picture->bytes, picture->length, take_bytes, &out);
    bool failed = out.failed;
    hf_text_free(picture);
    *picture = out;
    if (failed) return hf_error_set(&request->error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    if (done == HF_PLATFORM_NO_PROGRAM)
        return hf_error_set(&request->error, HF_FILE,
                            "a PNG is drawn by " HF_PNG_PROGRAM
                            ", which is not here: install the package " HF_PNG_PACKAGE
                            ", or write to a name that ends in .svg");
    if (done != HF_PLATFORM_FILTERED)
        return hf_error_set(&request->error, HF_FILE, HF_PNG_PROGRAM " could not draw this picture");
    return HF_OK;
}
