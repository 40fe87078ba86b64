#include "words/json_report.h"
#include "words/words.h"

void hf_report_print(const hf_report_kind *kind, const void *result, const hf_report_format *format,
                     const hf_report_style *style, hf_text *out) {
    if (!format->render) {
        hf_report_json(kind, result, style, out);
        return;
    }
    hf_document document = hf_document_for(hf_arena_create(), style);
    if (!document.arena) {
        out->failed = true;
        return;
    }
    kind->document(result, &document);
    format->render(&document, out);
    hf_arena_free(document.arena);
}
