/* Test day at the rig: what is pulled, what hangs, what each key does; and the two ways it is shown, by lines and on the whole terminal.
 *
 * All that is true of the day stands in hf_day, and every key is on the disk before the next; a view shows it and hears keys, no more. */
#ifndef HF_COMMAND_DAY_H
#define HF_COMMAND_DAY_H

#include "command/common.h"
#include "holdfast/campaign/journal.h"
#include "holdfast/study/sheet.h"

enum { HF_DAY_LINE = 1024 }; /* bytes of what is typed */

typedef struct hf_day hf_day;

typedef struct hf_day_view {
    bool (*open)(hf_day *day); /* false: this terminal cannot */
    void (*close)(hf_day *day);
    void (*intro)(hf_day *day);                  /* limits and keys, before the first rung */
    void (*keys)(hf_day *day);                   /* what can be typed */
    void (*say)(hf_day *day, const char *words); /* one paragraph */
    void (*show)(hf_day *day);                   /* the rung, which is another than before */
    void (*count_down)(hf_day *day);             /* it hangs: from day->dwell_s to 0 */
    const char *(*key)(hf_day *day); /* a key and what is typed behind it; NULL: the input ended */
    const char *(*ask)(hf_day *day, const char *words); /* the same of an answer */
} hf_day_view;

extern const hf_day_view hf_day_lines, hf_day_screen;

struct hf_day {
    hf_request *request;
    const hf_day_view *view;
    void *state;                    /* of the view */
    const char *path, *design, *by; /* NULL: of every design; nobody is named */
    const hf_campaign *campaign;
    const hf_sheet *sheet;
    const hf_sheet_part *part;
    hf_pull_progress progress;
    hf_pull_progress last; /* of the part written last in this session; part NULL: none */
    double started; /* of this part, by hf_platform_seconds; NaN when it went on from another session */
    double dwell_s; /* NaN: as the file says */
    bool back;      /* the rung before may not be what hangs now */
    size_t pulled;
    hf_findings findings; /* why the file cannot be read */
};

/* One thing that can be typed. Ends with a NULL meaning. */
typedef struct hf_day_key {
    char key; /* '\0': Enter alone */
    const char *behind, *meaning, *brief;
} hf_day_key;

extern const hf_day_key hf_day_keys[];

/* Paragraph `at` of what stands before the first rung, NULL past the last. */
const char *hf_day_caution(size_t at);

/* From the first part to the last, or to where it is stopped. HF_NO_RESULT when nothing is left. */
hf_status hf_day_go(hf_day *day);

/* The load of a rung as somebody at the rig would write it: in the unit of the plates where these are masses, else in the file's. */
const char *hf_day_load(const hf_day *day, size_t rung);

/* "ring-03, rung 4 of 9"; what to take off and put on, "" when that is not known; "372.1 N on the part". In the arena. */
const char *hf_day_place(const hf_day *day);
const char *hf_day_doing(const hf_day *day);
const char *hf_day_force(const hf_day *day);

#endif
