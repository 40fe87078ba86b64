/* A hand-over in reading order: the answer, each design, the designs against each other, conditions, every pull, method, limits, how to
 * repeat it. */
#include "holdfast/handover/report.h"
#include "words/assess_words.h"
#include "handover/handover_report.h"
#include "words/json_fields.h"
#include <string.h>

enum { TITLE_COLUMNS = 160 };

const char *hf_or_not_stated(const char *text) {
    return text && text[0] ? text : "not stated";
}

/* Cautions in a word each; their sentences stand in the chapter that `where` names. */
static void name_cautions(hf_document *d, const hf_cautions *list, const char *about, const char *where) {
    if (list->count)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s%s: %s. %s", list->count == 1 ? "One caution" : "Cautions",
                         about, hf_caution_names(d, list), where);
}

static void add_answers(hf_document *d, const hf_study *study) {
    const hf_assessment *assessment = study->assessment;
    hf_document_add(d, HF_BLOCK_HEADING, assessment->count == 1 ? "The answer" : "The answers");
    if (!assessment->count)
        hf_document_add(d, HF_BLOCK_ANSWER, "There is no design in this file: nothing can be said.");
    for (size_t i = 0; i < assessment->count; i++) {
        hf_assess_answer(d, &assessment->designs[i]);
        name_cautions(d, &assessment->designs[i].cautions, "", "More in the chapter below.");
    }
    name_cautions(d, &assessment->cautions, " about the whole file", "More under that heading.");
    hf_block *safety = hf_document_add(d, HF_BLOCK_PARAGRAPH,
                                       "Not for lifting or holding people, climbing, fall arrest or overhead "
                                       "loads; local codes win. In full under Limits.");
    if (safety) safety->link = "Limits";
}

static void add_file_cautions(hf_document *d, const hf_study *study) {
    if (!study->assessment->cautions.count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions about the whole file");
    hf_document_cautions(d, &study->assessment->cautions, "");
}

static void handover_document(const void *shown, hf_document *d) {
    const hf_study *study = shown;
    const hf_campaign *campaign = study->campaign;
    d->chapters = true;
    hf_document_add(d, HF_BLOCK_TITLE,
                    hf_cut_text(d, campaign->title[0] ? campaign->title : campaign->file, TITLE_COLUMNS));
    add_answers(d, study);
    for (size_t i = 0; i < study->assessment->count; i++) hf_handover_design_chapter(d, study, i);
    hf_handover_comparison(d, study);
    add_file_cautions(d, study);
    hf_handover_conditions(d, study);
    hf_handover_pulls(d, study);
    hf_handover_method(d, study);
    hf_assess_limits(d, study->assessment);
    hf_handover_provenance(d, study);
}

static hf_found assessment_of(const hf_place *p) {
    return hf_found_item(((const hf_study *)p->item)->assessment);
}

/* The numbers of a hand-over are those of its assessment. */
static const hf_field handover_fields[] = {
    {.kind = HF_FIELD_INLINE, .find = assessment_of, .record = &hf_json_assess}, HF_FIELDS_END};
static const hf_record handover_record = {.name = "assess", .fields = handover_fields};

const hf_report_kind hf_report_handover = {"handover", handover_document, &handover_record};
