/* A hand-over in reading order: the answer, each design, the designs against each other, conditions, every pull, method, limits, how to
 * repeat it. */
#include "holdfast/campaign/used.h"
#include "holdfast/handover/report.h"
#include "words/assess_words.h"
#include "handover/handover_report.h"
#include "words/json_fields.h"
#include "base/version_number.h"
#include "chart/document_chart.h"
#include <string.h>

enum { TITLE_COLUMNS = 160, STRIPS_MOST = 6 };

const char *hf_or_not_stated(const char *text) {
    return text && text[0] ? text : "not stated";
}

/* Cautions in a word each; their sentences stand in the chapter that `where` names. */
static void name_cautions(hf_document *d, const hf_cautions *list, const char *about, const char *where) {
    if (list->count)
        hf_document_addf(d, HF_BLOCK_PARAGRAPH, "%s%s: %s. %s", list->count == 1 ? "One caution" : "Cautions",
                         about, hf_caution_names(d, list), where);
}

/* The day of the last pull, the file and the program: enough to tell two printed reports apart. */
static void add_stamp(hf_document *d, const hf_campaign *campaign) {
    const char *last = hf_campaign_last_day(campaign);
    hf_document_addf(d, HF_BLOCK_PARAGRAPH, "Last pull: %s; file SHA-256 %.16s…; Holdfast " HF_VERSION ".",
                     last ? last : "no date stated", campaign->sha256);
}

/* How the strips are read; formats without pictures leave it out. */
static const char *legend(hf_document *d, const hf_glance *first) {
    const char *words = hf_arena_format(d->arena,
                                        "Bar: work with this. Line: %s of all parts carry it, with %s "
                                        "confidence. Marks: each pull, held to failed; arrow: "
                                        "still whole.%s",
                                        hf_show_text(d, HF_AS_SHARE_STATED, first->design->content),
                                        hf_show_text(d, HF_AS_SHARE_STATED, first->design->confidence),
                                        first->design->service_stated ? " Dashed: what is asked." : "");
    return words ? words : "";
}

/* All designs at one look, best first. */
static void add_glances(hf_document *d, const hf_study *study, const hf_glance *glances) {
    const hf_assessment *assessment = study->assessment;
    hf_document_add(d, HF_BLOCK_HEADING, assessment->count == 1 ? "The answer" : "The answers");
    if (!assessment->count)
        hf_document_add(d, HF_BLOCK_ANSWER, "There is no design in this file: nothing can be said.");
    if (glances && assessment->count) {
        hf_document_addf(d, HF_BLOCK_FINDING, "%s.%s", hf_glance_headline(d, &glances[0], glances[0].name),
                         hf_glance_tally(d, glances, assessment->count));
        hf_block *table = hf_glance_table(d, glances, assessment->count);
        size_t i = 0;
        for (hf_row *row = table ? table->rows : NULL; row; row = row->next) row->link = glances[i++].name;
        if (assessment->count <= STRIPS_MOST) {
            hf_document_strips(d, table, glances, assessment->count);
            if (table && table->picture) hf_document_caption(d, table, legend(d, &glances[0]));
        }
        hf_glance_picked(d, assessment);
    }
    hf_block *safety = hf_document_add(d, HF_BLOCK_PARAGRAPH,
                                       "Not for lifting or holding people, climbing, fall arrest or overhead "
                                       "loads; local codes win. In full under Limits.");
    if (safety) safety->link = "Limits";
    name_cautions(d, &assessment->cautions, " about the whole file", "More under that heading.");
    add_stamp(d, study->campaign);
}

static void add_file_cautions(hf_document *d, const hf_study *study) {
    if (!study->assessment->cautions.count) return;
    hf_document_add(d, HF_BLOCK_HEADING, "Cautions about the whole file");
    hf_document_cautions(d, &study->assessment->cautions, "");
}

/* A chapter that an auditor wants and nobody else. */
static void fold(hf_document *d, const hf_study *study, const char *heading, const char *summary,
                 void (*chapter)(hf_document *d, const hf_study *study)) {
    hf_document_add(d, HF_BLOCK_HEADING, heading);
    hf_document_add(d, HF_BLOCK_FOLD, summary);
    chapter(d, study);
    hf_document_add(d, HF_BLOCK_UNFOLD, "");
}

static void add_all(hf_document *d, const hf_study *study) {
    const hf_campaign *campaign = study->campaign;
    const hf_glance *glances = hf_glance_of(d, study->assessment);
    d->chapters = true;
    hf_document_add(d, HF_BLOCK_TITLE,
                    hf_cut_text(d, campaign->title[0] ? campaign->title : campaign->file, TITLE_COLUMNS));
    add_glances(d, study, glances);
    hf_handover_comparison(d, study);
    for (size_t i = 0; glances && i < study->assessment->count; i++)
        hf_handover_design_chapter(d, study, (size_t)(glances[i].design - study->assessment->designs));
    add_file_cautions(d, study);
}

static void handover_document(const void *shown, hf_document *d) {
    const hf_study *study = shown;
    add_all(d, study);
    fold(d, study, "Conditions and traceability", "What the file states of rig, parts and goal",
         hf_handover_conditions);
    fold(d, study, "Every pull as recorded", "The tables of all pulls", hf_handover_pulls);
    fold(d, study, "Method and assumptions", "How the figures were found, and how far they hold",
         hf_handover_method);
    hf_assess_limits(d, study->assessment);
    hf_handover_provenance(d, study);
}

/* What fits on two or three sheets: no tables, no method. */
static void short_document(const void *shown, hf_document *d) {
    const hf_study *study = shown;
    d->brief = true;
    add_all(d, study);
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
const hf_report_kind hf_report_handover_short = {"handover", short_document, &handover_record};
