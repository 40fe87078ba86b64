/* The strength laws in a sentence, as many as there are. */
#include "words/words.h"

bool hf_law_of_load(const hf_family *family) {
    return !family->log_scale;
}

bool hf_law_of_logarithm(const hf_family *family) {
    return family->log_scale;
}

bool hf_law_with_shape(const hf_family *family) {
    return family->has_shape;
}

const char *hf_laws_text(hf_document *d, bool (*among)(const hf_family *family), const char *article) {
    const char *text = "";
    size_t left = 0, said = 0;
    for (size_t i = 0; i < HF_FAMILY_COUNT; i++) left += among(hf_family_at(i));
    for (size_t i = 0; i < HF_FAMILY_COUNT && text; i++) {
        const hf_family *family = hf_family_at(i);
        if (!among(family)) continue;
        left--;
        text = hf_arena_format(d->arena, "%s%s%s%s", text,
                               !said  ? ""
                               : left ? ", "
                                      : " and ",
                               said ? article : "", family->label);
        said++;
    }
    return text ? text : "?";
}
