#include "holdfast/base/status.h"

typedef struct status_row {
    hf_status status;
    const char *name, *text;
} status_row;

static const status_row rows[] = {
#define STATUS_ROW(name, value, word, sentence) {name, word, sentence},
    HF_STATUS_LIST(STATUS_ROW)
#undef STATUS_ROW
};

static const status_row *find(hf_status status) {
    for (unsigned i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].status == status) return &rows[i];
    return 0;
}

const char *hf_status_name(hf_status status) {
    const status_row *row = find(status);
    return row ? row->name : "unknown";
}

const char *hf_status_text(hf_status status) {
    const status_row *row = find(status);
    return row ? row->text : "unknown status";
}
