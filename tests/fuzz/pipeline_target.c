/* Any bytes at all as a campaign, and then everything that is made of one: check, assess, compare, every chart, report, notebook.
 * Promises checked:
 *   - never a crash, never a step outside C; each piece is there, or is refused with words;
 *   - what is written for machines is JSON that our own strict reader takes; a picture is one whole <svg>; every text is UTF-8;
 *   - a working load is a positive number, not above the bound after calibration.
 * Files with more pulls than PULLS_MOST or more designs than DESIGNS_MOST are only read: larger is slower, not more telling. */
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "fuzz/must.h"
#include "holdfast/base/json.h"
#include "holdfast/campaign/campaign.h"
#include "holdfast/chart/chart.h"
#include "holdfast/handover/notebook.h"
#include "holdfast/handover/report.h"
#include "holdfast/numeric/parallel.h"
#include "holdfast/study/study.h"

enum { PULLS_MOST = 48, DESIGNS_MOST = 4, PARTS_MOST = 4 };

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* One campaign on its way through the rooms. */
typedef struct pipeline {
    hf_arena *arena;
    const hf_campaign *campaign;
    hf_findings findings;
    const hf_study *study; /* of all designs, with all its parts */
    hf_report_style style;
} pipeline;

static void check_utf8(const hf_text *text) {
    size_t at = 0, length;
    MUST(!text->failed && text->length);
    while (at < text->length) {
        MUST((length = hf_text_character(text->bytes + at, text->length - at)) > 0);
        at += length;
    }
}

static void check_json(const pipeline *p, const hf_text *text) {
    const hf_json *root;
    hf_error error;
    MUST(hf_json_parse(p->arena, "fuzz", text->bytes, text->length, &root, &error) == HF_OK);
    MUST(root->kind == HF_JSON_OBJECT);
}

/* The result in every format. */
static void print_all(const pipeline *p, const hf_report_kind *kind, const void *result) {
    size_t count;
    const hf_report_format *formats = hf_report_format_table(&count);
    for (size_t i = 0; i < count; i++) {
        hf_text text = {0};
        hf_report_print(kind, result, &formats[i], &p->style, &text);
        check_utf8(&text);
        if (!formats[i].render) check_json(p, &text);
        hf_text_free(&text);
    }
}

static void check_event(const hf_event_assessment *event) {
    MUST(event->counts.used == event->counts.failed + event->counts.run_out + event->counts.rig);
    MUST(!event->governing || event->governing->method != HF_BOUND_NONE);
    MUST(isfinite(event->calibrated) <= (event->governing != NULL));
}

static void check_designs(const pipeline *p) {
    bool any = false;
    for (size_t i = 0; i < p->study->assessment->count; i++) {
        const hf_design_assessment *design = &p->study->assessment->designs[i];
        check_event(&design->break_event);
        if (design->set_watched) check_event(&design->set_event);
        any |= design->break_event.governing != NULL;
        MUST(isnan(design->working_load) == (design->working_load_reason != HF_NO_LOAD_NONE));
        if (design->working_load_reason != HF_NO_LOAD_NONE) continue;
        MUST(design->working_load > 0 && isfinite(design->working_load));
        MUST(design->working_load <= design->working_load_unrounded);
        MUST(design->working_load_unrounded <= design->break_event.calibrated);
    }
    MUST(any == p->study->assessment->any_result);
}

static void draw(const pipeline *p, const hf_chart_kind *kind, const hf_chart_subject *subject) {
    static const char close[] = "</svg>\n";
    hf_text text = {0};
    hf_error error = {0};
    hf_status status = hf_chart_draw(kind, subject, &p->style, &text, &error);
    if (status == HF_OK) {
        check_utf8(&text);
        MUST(strncmp(text.bytes, "<svg ", 5) == 0);
        MUST(strcmp(text.bytes + text.length - strlen(close), close) == 0);
    } else {
        MUST(status == HF_NO_RESULT && error.message[0] && !text.length);
    }
    hf_text_free(&text);
}

/* Every picture that one design (and the comparison) can be drawn as, for the telephone and for the page. */
static void draw_all(const pipeline *p, hf_chart_subject *subject) {
    size_t count;
    const hf_chart_kind *kinds = hf_chart_kind_table(&count);
    for (size_t i = 0; i < count; i++) {
        const hf_chart_kind *kind = &kinds[i];
        if (!hf_chart_can_draw(kind, subject)) continue;
        subject->width = HF_CHART_NARROW;
        draw(p, kind, subject);
        subject->width = HF_CHART_WIDE;
        draw(p, kind, subject);
    }
}

/* A small plan of the first design; NULL where the file has no guess to plan from. */
static const hf_plan *make_plan(const pipeline *p) {
    const hf_plan *plan = NULL;
    hf_plan_setup setup;
    hf_error error = {0};
    if (hf_plan_setup_of(p->campaign, NULL, &setup, &error) != HF_OK) return NULL;
    setup.most = PARTS_MOST;
    if (hf_plan_make(p->arena, p->campaign, &setup, &plan, &error) == HF_OK) return plan;
    MUST(error.message[0]);
    return NULL;
}

static void draw_designs(const pipeline *p) {
    hf_step_curve curve;
    hf_so_far so_far;
    hf_error error = {0};
    for (size_t i = 0; i < p->study->assessment->count; i++) {
        const hf_study_design *design = &p->study->designs[i];
        hf_chart_subject subject = {.design = design->assessment,
                                    .assessment = p->study->assessment,
                                    .probability = design->probability};
        if (hf_so_far_of(p->arena, p->campaign, design->assessment->design, 1, &so_far, &error) == HF_OK)
            subject.so_far = &so_far;
        if (i == 0) subject.comparison = p->study->comparison;
        if (i == 0) subject.plan = make_plan(p);
        if (subject.plan) {
            print_all(p, &hf_report_plan, subject.plan);
            if (hf_step_curve_of(subject.plan, &curve) == HF_OK) subject.curve = &curve;
        }
        draw_all(p, &subject);
    }
}

static void write_notebook(const pipeline *p) {
    hf_text text = {0};
    hf_error error = {0};
    hf_status status = hf_notebook_write(p->study, &p->style, &text, &error);
    MUST(status == HF_OK || error.message[0]);
    if (status == HF_OK) check_json(p, &text);
    hf_text_free(&text);
}

static void run(pipeline *p) {
    const hf_study_options wanted = {.what =
                                         HF_STUDY_PAIRS | HF_STUDY_BESIDE | HF_STUDY_PLOTS | HF_STUDY_OUTLOOK,
                                     .same_within = 0.1,
                                     .seed = 1,
                                     .command = "holdfast report"};
    const hf_check_result check = {.campaign = p->campaign, .findings = &p->findings};
    hf_error error = {0};
    p->style = (hf_report_style){.unit = p->campaign->unit, .gravity = p->campaign->gravity, .width = 80};
    print_all(p, &hf_report_check, &check);
    MUST(hf_study_of(p->arena, p->campaign, &p->findings, &wanted, &p->study, &error) == HF_OK);
    check_designs(p);
    MUST(p->study->comparison || p->study->no_comparison.message[0]);
    print_all(p, &hf_report_assess, p->study->assessment);
    print_all(p, &hf_report_assess_short, p->study->assessment);
    if (p->study->comparison) print_all(p, &hf_report_compare, p->study->comparison);
    if (p->study->comparison) print_all(p, &hf_report_compare_short, p->study->comparison);
    draw_designs(p);
    print_all(p, &hf_report_handover, p->study);
    write_notebook(p);
}

static bool is_small(const hf_campaign *campaign) {
    size_t pulls = 0;
    for (size_t i = 0; i < campaign->design_count; i++) pulls += campaign->designs[i].specimen_count;
    return campaign->design_count <= DESIGNS_MOST && pulls <= PULLS_MOST;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    pipeline p = {.arena = hf_arena_create()};
    hf_parallel_set_threads(1);
    MUST(p.arena);
    hf_status status = hf_campaign_parse(p.arena, "fuzz", (const char *)data, size, &p.campaign, &p.findings);
    MUST(status == HF_OK || status == HF_BAD_DATA);
    if (status == HF_OK && is_small(p.campaign)) run(&p);
    hf_arena_free(p.arena);
    return 0;
}
