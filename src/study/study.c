/* The one pipeline: answers, and whatever else of it is asked for. */
#include "study/study_parts.h"

#include <math.h>
#include "holdfast/numeric/parallel.h"

/* --- One design -------------------------------------------------------------------------------------- */

static void fill_coverage(hf_study_design *out) {
    const hf_event_assessment *event = &out->assessment->break_event;
    const hf_bound *bound = event->governing;
    double used = (double)event->counts.used, below = (double)event->counts.below;
    double whole = used - (double)event->counts.failed;
    if (!bound || !bound->family) return;
    if (bound->method == HF_BOUND_FACTOR)
        out->coverage =
            hf_published_coverage_nearest(bound->family, bound->content, bound->confidence, bound->n);
    else if (bound->method == HF_BOUND_CONDITIONAL && used > 0)
        out->open_coverage = hf_published_open_nearest(bound->family, bound->content, bound->confidence,
                                                       below > whole, fmax(below, whole) / used, bound->n);
}

/* Designs are independent: each is one block of work with an arena of its own, adopted at the end. */
typedef struct study_job {
    const hf_study *study;
    hf_study_design *designs;
    hf_arena **arenas;
    hf_status *status;
} study_job;

static hf_status fill_design(hf_arena *arena, const hf_study *study, hf_study_design *design) {
    const unsigned what = study->options.what;
    hf_status status = HF_OK;
    if (what & HF_STUDY_PLOTS)
        status = hf_probability_plot_of(arena, study->assessment, design->assessment, study->options.paper,
                                        &design->probability);
    if (status == HF_MEMORY) return status;
    if (status != HF_OK) design->probability = NULL;
    if (!(what & HF_STUDY_OUTLOOK)) return HF_OK;
    fill_coverage(design);
    status = hf_study_rungs(arena, study->campaign, design);
    return status == HF_OK ? hf_study_outlook(arena, study, design) : status;
}

static void design_block(size_t block, int worker, void *context) {
    const study_job *job = context;
    hf_study_design *design = &job->designs[block];
    hf_arena *arena = job->arenas[block] = hf_arena_create();
    (void)worker;
    job->status[block] = HF_MEMORY;
    if (arena) job->status[block] = fill_design(arena, job->study, design);
}

static hf_status fill_designs(hf_arena *arena, hf_study *study) {
    size_t count = study->assessment->count;
    hf_study_design *designs = HF_ARENA_NEW_ARRAY(arena, hf_study_design, count);
    study_job job = {study, designs, HF_ARENA_NEW_ARRAY(arena, hf_arena *, count),
                     HF_ARENA_NEW_ARRAY(arena, hf_status, count)};
    hf_status status = HF_OK;
    if (!designs || !job.arenas || !job.status) return HF_MEMORY;
    for (size_t i = 0; i < count; i++) designs[i].assessment = &study->assessment->designs[i];
    study->designs = designs;
    if (!(study->options.what & (HF_STUDY_PLOTS | HF_STUDY_OUTLOOK))) return HF_OK;
    hf_parallel_blocks(count, design_block, &job);
    for (size_t i = 0; i < count; i++) {
        hf_arena_adopt(arena, job.arenas[i]);
        if (job.status[i] != HF_OK) status = job.status[i];
    }
    return status;
}

/* --- All of it --------------------------------------------------------------------------------------- */

static hf_comparison_options comparison_options(const hf_study_options *options) {
    return (hf_comparison_options){.designs = options->designs,
                                   .design_count = options->design_count,
                                   .level = options->level,
                                   .same_within = options->same_within,
                                   .seed = options->seed,
                                   .verdicts_only = !(options->what & HF_STUDY_BESIDE)};
}

/* Asked before anything is worked out: who named designs to compare hears at once of one that is not there. */
static bool can_compare(hf_study *study) {
    const hf_comparison_options options = comparison_options(&study->options);
    hf_error_clear(&study->no_comparison);
    return hf_comparison_check(study->campaign, &options, &study->no_comparison) == HF_OK;
}

static hf_status compare(hf_arena *arena, hf_study *study, hf_error *error) {
    const hf_comparison_options options = comparison_options(&study->options);
    return hf_compare(arena, study->assessment, &options, &study->comparison, error);
}

static size_t designs_of(const hf_study *study) {
    return study->options.design_count ? study->options.design_count : study->campaign->design_count;
}

hf_status hf_study_of(hf_arena *arena, const hf_campaign *campaign, const hf_findings *findings,
                      const hf_study_options *options, const hf_study **out, hf_error *error) {
    hf_study *study = HF_ARENA_NEW(arena, hf_study);
    if (!study) return hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    *out = study;
    study->campaign = campaign;
    study->findings = findings;
    study->options = *options;
    bool compared = (options->what & HF_STUDY_PAIRS) && can_compare(study);
    if (!compared && (options->what & HF_STUDY_PAIRS) && options->design_count) {
        if (error) *error = study->no_comparison;
        return study->no_comparison.status;
    }
    const hf_assess_options wanted = {.designs = options->designs,
                                      .design_count = options->design_count,
                                      .family = options->family,
                                      .by_rule = options->by_rule,
                                      .content = options->content,
                                      .confidence = options->confidence,
                                      .best_of = options->choose_best ? designs_of(study) : options->best_of,
                                      .seed = options->seed};
    hf_status status = hf_assess(arena, campaign, findings, &wanted, &study->assessment, error);
    if (status == HF_OK && fill_designs(arena, study) != HF_OK)
        status = hf_error_set(error, HF_MEMORY, "%s", hf_status_text(HF_MEMORY));
    return status == HF_OK && compared ? compare(arena, study, error) : status;
}
