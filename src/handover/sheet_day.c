/* The first page of the worksheet: what can hurt, what the loads rest on, who and where. */
#include "holdfast/base/number.h"
#include "document/html.h"
#include "handover/sheet_parts.h"

enum { NAME_MOST = 200, WEIGHTS_MOST = 12 }; /* columns of a name; kinds of weight that are listed */

void hf_sheet_name(hf_text *out, const char *name) {
    hf_text cut = {0};
    if (hf_text_columns(name) > NAME_MOST) {
        hf_text_add_bytes(&cut, name, hf_text_cut(name, NAME_MOST - 1));
        hf_text_add(&cut, "…");
    }
    hf_html_add(out, cut.bytes ? cut.bytes : name);
    out->failed = out->failed || cut.failed;
    hf_text_free(&cut);
}

void hf_sheet_load(hf_text *out, const hf_report_style *style, double newtons) {
    char number[HF_NUMBER_SIZE];
    hf_text_addf(out, "%s&#160;", hf_number_figures(hf_in_unit(style, newtons), 4, number));
    hf_html_add(out, style->unit->name);
}

void hf_sheet_safety(hf_text *out) {
    hf_text_add(out, "<section class=\"safety\">\n<h2>Before each pull</h2>\n<ol>\n");
    const char *item;
    for (size_t i = 0; (item = hf_safety_item(i)) != NULL; i++) {
        hf_text_add(out, "<li>");
        hf_html_add(out, item);
        hf_text_add(out, "</li>\n");
    }
    hf_text_add(out, "</ol>\n</section>\n");
}

/* Which plan this paper is of. */
static void add_origin(hf_text *out, const hf_plan_record *plan) {
    if (!plan->made) return;
    hf_text_add(out, " Plan of <span class=\"unbroken\">");
    hf_html_add(out, plan->made);
    hf_text_add(out, "</span>");
    if (plan->seed.given) hf_text_addf(out, ", order by seed %.0f", plan->seed.value);
    hf_text_add(out, ".");
}

static void add_rig(hf_text *out, const hf_rig *rig, const hf_report_style *style) {
    hf_text_add(out, "<p>");
    if (rig->id && rig->id[0]) {
        hf_text_add(out, "Rig: ");
        hf_sheet_name(out, rig->id);
        hf_text_add(out, ". ");
    }
    hf_text_add(out, "Rated ");
    if (rig->rating.given)
        hf_sheet_load(out, style, rig->rating.value);
    else
        hf_text_add(out, "load not stated in the file");
    hf_text_add(out, ". Tare (hanger, hook, rope below the part) ");
    hf_sheet_load(out, style, rig->force.tare);
    hf_text_add(out, ", already counted in the force on the part.");
}

static void add_weights(hf_text *out, const hf_campaign *campaign) {
    char number[HF_NUMBER_SIZE];
    if (!campaign->weight_count) return;
    hf_text_add(out, " Weights at hand: ");
    for (size_t i = 0; i < campaign->weight_count && i < WEIGHTS_MOST; i++) {
        const hf_weight *weight = &campaign->weights[i];
        hf_text_addf(out, "%s%zu×%s&#160;%s", i ? ", " : "", weight->count,
                     hf_number_shortest(weight->value, number), weight->unit->name);
    }
    hf_text_add(out, campaign->weight_count > WEIGHTS_MOST ? ", and more." : ".");
}

void hf_sheet_day(hf_text *out, const hf_campaign *campaign, const hf_report_style *style) {
    static const char *const lines[] = {"Who pulls", "Who watches", "Place, temperature",
                                        "Rig looked over by"};
    hf_text_add(out, "<section class=\"day\">\n<h2>The day and the rig</h2>\n");
    add_rig(out, &campaign->rig, style);
    add_weights(out, campaign);
    add_origin(out, &campaign->plan);
    hf_text_add(out, "</p>\n<div class=\"fill\">");
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        hf_text_addf(out, "<div class=\"line\">%s</div>", lines[i]);
    hf_text_add(out, "</div>\n</section>\n");
}

const char *hf_sheet_records(const hf_campaign *campaign) {
    return campaign->rig.force.records == HF_RIG_RECORDS_ADDED ? "added" : "total";
}

/* Half a sentence for each word of the rows, and what people get wrong when they fill them in. */
void hf_sheet_words(hf_text *out, const hf_campaign *campaign, const hf_unit *asked) {
    char dwell[HF_NUMBER_SIZE];
    const hf_rig *rig = &campaign->rig;
    bool added = rig->force.records == HF_RIG_RECORDS_ADDED;
    hf_text_add(
        out,
        "<section class=\"words\">\n<h2>How to fill it in</h2>\n<ul>\n<li><strong>Rung</strong>: one load "
        "of the ladder, one line. <strong>Dwell</strong>: the wait under it, hands off");
    if (rig->dwell_s.given) hf_text_addf(out, ", %s&#160;s", hf_number_shortest(rig->dwell_s.value, dwell));
    hf_text_add(
        out,
        ". <strong>Set</strong>: the part has moved or bent for good but still holds; tick the first rung "
        "that shows it.</li>\n<li>Tick a rung when it has held its dwell, a part when it is "
        "done.</li>\n");
    hf_text_addf(out, "<li>Write down the load under <strong>%s</strong>, not the force on the part%s.",
                 added ? "Added" : "Total", added ? ": the tare is counted in later" : "");
    if (asked)
        hf_text_addf(out, " Say %s when you record it: a bare number is in %s.", asked->name,
                     campaign->unit->name);
    hf_text_add(out, "</li>\n");
    hf_text_add(
        out,
        "<li><strong>The last rung held?</strong> Do not go beyond the ladder. Unload; the pull counts as a "
        "run-out at the last rung. If many do and no proof was planned, plan a longer ladder, within the "
        "rig's "
        "rating.</li>\n</ul>\n</section>\n");
}
