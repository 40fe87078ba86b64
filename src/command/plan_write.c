#include "command/plan_write.h"
#include <string.h>
#include "holdfast/campaign/write_plan.h"
#include "holdfast/study/sheet.h"
#include "platform/clock.h"

/* The plan was computed from `then`, without the lock, for seconds perhaps. */
typedef struct plan_work {
    hf_request *request;
    const hf_campaign *then;
    hf_plan_writing made, written;
} plan_work;

static hf_status edit(void *context, const hf_campaign *now, hf_text *text, hf_error *error) {
    plan_work *work = context;
    hf_arena *arena = work->request->arena;
    const char *where;
    if (!hf_campaign_same_basis(work->then, now, &where))
        return hf_error_set(
            error, HF_FILE,
            "%s: changed meanwhile in \"%s\", on which the plan hangs; nothing was written, plan "
            "again",
            work->request->arguments[0], where);
    work->written = work->made;
    hf_status status = HF_OK;
    if (strcmp(work->then->sha256, now->sha256) != 0)
        status = hf_plan_writing_again(arena, now, &work->made, &work->written, error);
    return status == HF_OK ? hf_campaign_write_plan(arena, now, &work->written, text, error) : status;
}

static void say_written(const hf_request *request, const hf_plan_writing *writing) {
    const char *path = request->arguments[0];
    for (size_t i = 0; i < writing->count; i++) {
        const hf_plan_design *design = &writing->designs[i];
        hf_say("%s: %zu part%s of %s planned on %zu rungs", path, design->parts,
               design->parts == 1 ? "" : "s", design->id, design->rung_count);
        if (design->there) hf_say(", %zu there already", design->there);
        hf_say("\n");
    }
    hf_say("next: holdfast sheet %s -o sheet.html\n", path);
}

hf_exit hf_plan_write(hf_request *request, const hf_plan *plan) {
    char date[11];
    plan_work work = {.request = request, .then = plan->campaign};
    hf_campaign_change change = hf_request_change(request, request->arguments[0], edit, &work);
    hf_platform_today(date);
    hf_status status = hf_plan_writing_make(request->arena, plan, date, &work.made, &request->error);
    if (hf_request_lacks_memory(request)) status = HF_MEMORY;
    if (status == HF_OK) status = hf_campaign_change_make(request->arena, &change, &request->error);
    request->error.status = status;
    if (change.findings.errors) return hf_findings_print(request, &change.findings, change.path);
    if (status != HF_OK) return hf_request_fail(request);
    hf_request_note_names(request, change.path, change.names);
    say_written(request, &work.written);
    request->kept = hf_arena_format(request->arena, "the plan is in %s", change.path);
    return HF_EXIT_DONE;
}
