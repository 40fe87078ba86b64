#include "holdfast/report/sheet.h"

#include <string.h>
#include "holdfast/base/number.h"
#include "report/document.h"
#include "report/html.h"

static const char page_head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
    "content=\"width=device-width, initial-scale=1\">\n";

/* Ink only: black on white, heavy rules, boxes large enough for a gloved hand. */
static const char page_style[] =
    "<style>\n"
    ":root{color-scheme:light}\n"
    "body{font:12pt/1.35 system-ui,sans-serif;color:#000;background:#fff;margin:0 "
    "auto;padding:1rem;max-width:48rem}\n"
    "h1{font-size:1.5rem;margin:0 0 .5rem}h2{font-size:1.15rem;margin:0 0 .3rem}\n"
    ".safety{border:3px solid #000;padding:.6rem .8rem;margin:0 0 1rem}.safety ol{margin:.2rem 0 "
    "0;padding-left:1.4rem}\n"
    ".part{border:2px solid #000;padding:.6rem .8rem;margin:0 0 1rem;break-inside:avoid}\n"
    ".scroll{overflow-x:auto}\n"
    "table{border-collapse:collapse;width:100%;font-size:11pt}\n"
    "th,td{border:1px solid #000;padding:.18rem .4rem;text-align:left;vertical-align:top}\n"
    "td.n,th.n{text-align:right;white-space:nowrap}\n"
    ".box{display:inline-block;width:1.1em;height:1.1em;border:2px solid #000;vertical-align:-.15em}\n"
    ".fill{display:grid;grid-template-columns:repeat(auto-fit,minmax(11rem,1fr));gap:.5rem "
    ".8rem;margin-top:.6rem}\n"
    ".fill div{border-bottom:1.5px solid #000;min-height:1.9rem}\n"
    ".tick{white-space:nowrap;margin-right:1em}\n"
    "@page{margin:12mm}\n"
    "@media print{body{padding:0;max-width:none;font-size:11pt}table{font-size:10pt}th,td{padding:.08rem "
    ".35rem}.part{padding:.4rem .6rem;margin-bottom:.6rem}.fill "
    "div{min-height:1.6rem}thead{display:table-header-group}tr{break-inside:avoid}}\n"
    "</style>\n";

static const char *const safety[] = {
    "Nobody under, in line with or astride the pull. Bystanders and children away, behind a sheet of ply or "
    "polycarbonate.",
    "Weights hang at most 50 mm above a pad; a slack catch line on the weights and on the top fitting.",
    "Eye protection with side shields, sturdy shoes; hair, cords and cuffs tied.",
    "The rig is rated at least twice the highest rung and was proof-pulled; every link is stronger than the "
    "part.",
    "Add gently, never drop. Hands clear before each dwell; never lean in to read.",
    "Stop at a creak, a lean, or creep that does not settle: lower the load. Not \"just one more\".",
    "Unload by lowering or jacking, never by cutting. A part that did not break is still dangerous: scrap it "
    "or mark it.",
    "Not for lifting or holding people. Local codes and licensed practice win over this sheet.",
};

static void add_load(hf_text *out, const hf_report_style *style, double newtons) {
    char number[HF_NUMBER_SIZE];
    hf_text_addf(out, "%s ", hf_number_figures(hf_in_unit(style, newtons), 4, number));
    hf_html_add(out, style->unit->name);
}

static void add_safety(hf_text *out) {
    hf_text_add(out, "<section class=\"safety\">\n<h2>Before each pull</h2>\n<ol>\n");
    for (size_t i = 0; i < sizeof safety / sizeof *safety; i++) {
        hf_text_add(out, "<li>");
        hf_html_add(out, safety[i]);
        hf_text_add(out, "</li>\n");
    }
    hf_text_add(out, "</ol>\n</section>\n");
}

static void add_rungs(const hf_sheet *sheet, const hf_sheet_ladder *ladder, const hf_report_style *style,
                      hf_text *out) {
    bool added = sheet->campaign->rig.force.records != HF_RIG_RECORDS_TOTAL;
    hf_text_addf(out,
                 "<div class=\"scroll\"><table>\n<thead><tr><th class=\"n\">Rung</th><th>Do</th><th "
                 "class=\"n\">%s</th><th class=\"n\">Force on part</th><th>Held</th>"
                 "<th>Set seen</th></tr></thead>\n<tbody>\n",
                 added ? "Added" : "Total");
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_sheet_rung *rung = &ladder->rungs[i];
        hf_text_addf(out, "<tr><td class=\"n\">%zu</td><td>", i + 1);
        hf_html_add(out, rung->doing[0] ? rung->doing : rung->hangs);
        hf_text_add(out, "</td><td class=\"n\">");
        add_load(out, style, rung->recorded);
        hf_text_add(out, "</td><td class=\"n\">");
        add_load(out, style, rung->force);
        hf_text_add(out,
                    "</td><td><span class=\"box\"></span></td><td><span class=\"box\"></span></td></tr>\n");
    }
    hf_text_add(out, "</tbody>\n</table></div>\n");
}

static void add_part(const hf_sheet *sheet, const hf_sheet_part *part, size_t number,
                     const hf_report_style *style, hf_text *out) {
    static const char *const fields[] = {"Failed at", "Last held", "Way it broke", "Time", "Batch", "Name"};
    const hf_rig *rig = &sheet->campaign->rig;
    char dwell[HF_NUMBER_SIZE];
    hf_text_addf(out, "<section class=\"part\">\n<h2>%zu of %zu: ", number, sheet->part_count);
    hf_html_add(out, part->specimen->id);
    hf_text_add(out, "</h2>\n");
    if (rig->dwell_s.given)
        hf_text_addf(out, "<p>Wait %s s on each rung.</p>\n", hf_number_shortest(rig->dwell_s.value, dwell));
    if (part->ladder)
        add_rungs(sheet, part->ladder, style, out);
    else
        hf_text_add(out, "<p>No ladder is planned for this design: write down each load that held.</p>\n");
    hf_text_add(
        out,
        "<p><span class=\"tick\"><span class=\"box\"></span> failed while adding</span> <span "
        "class=\"tick\"><span class=\"box\"></span> failed in the dwell</span> "
        "<span class=\"tick\"><span class=\"box\"></span> weight dropped on</span> <span "
        "class=\"tick\"><span class=\"box\"></span> out of weight, part intact</span> <span "
        "class=\"tick\"><span class=\"box\"></span> rig or grip let go</span></p>\n<div class=\"fill\">");
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) hf_text_addf(out, "<div>%s</div>", fields[i]);
    hf_text_add(out, "<div>Remarks</div></div>\n</section>\n");
}

void hf_sheet_html(const hf_sheet *sheet, const hf_report_style *style, hf_text *out) {
    const hf_campaign *campaign = sheet->campaign;
    const char *title = campaign->title[0] ? campaign->title : "Worksheet";
    hf_text_add(out, page_head);
    hf_text_add(out, "<title>");
    hf_html_add(out, title);
    hf_text_add(out, ": worksheet</title>\n");
    hf_text_add(out, page_style);
    hf_text_add(out, "</head>\n<body>\n<h1>");
    hf_html_add(out, title);
    hf_text_add(out, ": worksheet</h1>\n");
    add_safety(out);
    hf_text_add(out, "<p>Pull in this order. Tare (hanger, hook, rope below the part): ");
    add_load(out, style, campaign->rig.force.tare);
    hf_text_add(out, ", already counted in the force. Tick a rung when it has held its dwell.</p>\n");
    for (size_t i = 0; i < sheet->part_count; i++) add_part(sheet, &sheet->parts[i], i + 1, style, out);
    hf_text_add(out, "</body>\n</html>\n");
}

/* A cell as RFC 4180 wants it; one that a spreadsheet would run as a formula gets a quote in front. */
static void add_cell(hf_text *out, const char *text) {
    hf_text_add(out, strchr("=+-@", text[0]) && text[0] ? "\"'" : "\"");
    for (; *text; text++) hf_text_add_bytes(out, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    hf_text_add(out, "\"");
}

/* Twelve figures: what weights and gravity make, without the last bit of binary arithmetic. */
static const char *plain_number(double value, char out[HF_NUMBER_SIZE]) {
    double rounded = value;
    hf_number_figures(value, 12, out);
    (void)hf_number_read(out, strlen(out), &rounded);
    return hf_number_shortest(rounded, out);
}

void hf_sheet_csv(const hf_sheet *sheet, const hf_report_style *style, hf_text *out) {
    char force[HF_NUMBER_SIZE], recorded[HF_NUMBER_SIZE];
    hf_text_addf(out, "design,rung,force [%s],recorded [%s],hangs,do\n", style->unit->name,
                 style->unit->name);
    for (size_t i = 0; i < sheet->ladder_count; i++)
        for (size_t j = 0; j < sheet->ladders[i].count; j++) {
            const hf_sheet_rung *rung = &sheet->ladders[i].rungs[j];
            add_cell(out, sheet->ladders[i].design->id);
            hf_text_addf(out, ",%zu,%s,%s,", j + 1, plain_number(hf_in_unit(style, rung->force), force),
                         plain_number(hf_in_unit(style, rung->recorded), recorded));
            add_cell(out, rung->hangs);
            hf_text_add(out, ",");
            add_cell(out, rung->doing);
            hf_text_add(out, "\n");
        }
}
