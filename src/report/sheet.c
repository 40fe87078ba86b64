#include "holdfast/report/sheet.h"

#include <string.h>
#include "holdfast/base/number.h"
#include "report/document.h"
#include "report/html.h"

enum { NAME_MOST = 200 }; /* columns of a name */

static const char page_head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
    "content=\"width=device-width, initial-scale=1\">\n";

/* Ink only: black on white, heavy rules, boxes large enough for a gloved hand. */
static const char page_style[] =
    "<style>\n"
    ":root{color-scheme:light}\n"
    "*{box-sizing:border-box}\n"
    "body{font:12pt/1.35 system-ui,sans-serif;color:#000;background:#fff;margin:0 "
    "auto;padding:1rem;max-width:52rem}\n"
    "h1{font-size:1.5rem;line-height:1.2;margin:0 0 .6rem}h2{font-size:1.15rem;margin:0 0 "
    ".3rem}p{margin:.3rem 0 .5rem}h1,h2,p,li{overflow-wrap:anywhere}\n"
    ".safety{border:3px solid #000;padding:.6rem .8rem;margin:0 0 1rem}.safety ol{margin:.2rem 0 "
    "0;padding-left:1.4rem}\n"
    ".part{border:2px solid #000;padding:.6rem .8rem .8rem;margin:0 0 1rem;break-inside:avoid}\n"
    "table{border-collapse:collapse;width:100%;font-size:11pt}\n"
    "th,td{border:1px solid #000;padding:.2rem "
    ".45rem;text-align:left;vertical-align:middle;overflow-wrap:break-word}\n"
    ".n{text-align:right;white-space:nowrap}.c{text-align:center;white-space:nowrap}th.t{width:4.8rem}\n"
    ".box{display:inline-block;width:1.1em;height:1.1em;border:2px solid #000;vertical-align:-.15em}\n"
    ".ticks{list-style:none;margin:.6rem 0 .2rem;padding:0;display:flex;flex-wrap:wrap;gap:.3rem 1.4em}"
    ".ticks li{white-space:nowrap}.ticks .box{margin-right:.5em}\n"
    ".fill{display:grid;grid-template-columns:repeat(auto-fit,minmax(9rem,1fr));gap:0 "
    ".8rem}.wide{grid-column:1/-1}small{font-weight:400;font-size:11pt;margin-left:1em}\n"
    ".line{border-bottom:1.5px solid #000;min-height:2.5rem;font-size:10pt;padding-top:.15rem}\n"
    "@page{margin:12mm}\n"
    "@media print{body{padding:0;max-width:none;font-size:11pt}table{font-size:10pt}th,td{padding:.1rem "
    ".4rem}.part{padding:.4rem .6rem .5rem;margin-bottom:.7rem}"
    ".fill{grid-template-columns:repeat(4,1fr)}.wide{grid-column:2/-1}.line{min-height:2.1rem}"
    "thead{display:table-header-group}tr{break-inside:avoid}}\n"
    "@media screen and (max-width:40rem){thead{display:none}tbody,table{display:block}"
    "tbody tr{display:grid;grid-template-columns:1.4rem 1fr auto;grid-template-areas:'r d h' 'r f s' 'r a "
    ".';gap:.15rem .6rem;align-items:baseline;border:1px solid #000;border-top:0;padding:.4rem .5rem}"
    "tbody tr:first-child{border-top:1px solid #000}td{border:0;padding:0}td.t{display:none}"
    "td:nth-child(1){grid-area:r;text-align:left;font-weight:700}td:nth-child(2){grid-area:d;font-weight:"
    "700}td:nth-child(3){grid-area:a;text-align:left}td:nth-child(4){grid-area:f;text-align:left}"
    "td:nth-child(5){grid-area:h;text-align:right}td:nth-child(7){grid-area:s;text-align:right}"
    "td:nth-child(3)::before{content:'added '}td:nth-child(5)::before{content:'held "
    "'}td:nth-child(7)::before{content:'set seen '}}\n"
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

/* A name of the campaign; a very long one is cut, so that the sheet stays a sheet. */
static void add_name(hf_text *out, const char *name) {
    hf_text cut = {0};
    if (hf_text_columns(name) > NAME_MOST) {
        hf_text_add_bytes(&cut, name, hf_text_cut(name, NAME_MOST - 1));
        hf_text_add(&cut, "…");
    }
    hf_html_add(out, cut.bytes ? cut.bytes : name);
    out->failed = out->failed || cut.failed;
    hf_text_free(&cut);
}

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

/* A number and its unit stay on one line. */
static void add_unbroken(hf_text *out, const char *words) {
    char one[2] = {0};
    for (char before = 0; *words; before = *words++) {
        one[0] = *words;
        if (*words == ' ' && before >= '0' && before <= '9')
            hf_text_add(out, "&#160;");
        else
            hf_html_add(out, one);
    }
}

static void add_rungs(const hf_sheet *sheet, const hf_sheet_ladder *ladder, const hf_report_style *style,
                      hf_text *out) {
    bool added = sheet->campaign->rig.force.records != HF_RIG_RECORDS_TOTAL;
    hf_text_addf(out,
                 "<table>\n<thead><tr><th class=\"n\">Rung</th><th>Do</th><th "
                 "class=\"n\">%s</th><th class=\"n\">Force on part</th><th class=\"c\">Held</th>"
                 "<th class=\"t\">Time</th><th class=\"c\">Set seen</th></tr></thead>\n<tbody>\n",
                 added ? "Added" : "Total");
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_sheet_rung *rung = &ladder->rungs[i];
        hf_text_addf(out, "<tr><td class=\"n\">%zu</td><td>", i + 1);
        add_unbroken(out, rung->doing[0] ? rung->doing : rung->hangs);
        hf_text_add(out, "</td><td class=\"n\">");
        add_load(out, style, rung->recorded);
        hf_text_add(out, "</td><td class=\"n\">");
        add_load(out, style, rung->force);
        hf_text_add(out, "</td><td class=\"c\"><span class=\"box\"></span></td><td class=\"t\"></td><td "
                         "class=\"c\"><span class=\"box\"></span></td></tr>\n");
    }
    hf_text_add(out, "</tbody>\n</table>\n");
}

/* How it ended: boxes to tick, lines to write on. */
static void add_result(hf_text *out) {
    static const char *const ticks[] = {"failed while adding", "failed in the dwell", "weight dropped on",
                                        "out of weight, part intact", "rig or grip let go"};
    static const char *const lines[] = {"Failed at", "Last held", "Way it broke (mode)", "Batch",
                                        "Date, initials"};
    hf_text_add(out, "<ul class=\"ticks\">");
    for (size_t i = 0; i < sizeof ticks / sizeof *ticks; i++)
        hf_text_addf(out, "<li><span class=\"box\"></span>%s</li>", ticks[i]);
    hf_text_add(out, "</ul>\n<div class=\"fill\">");
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        hf_text_addf(out, "<div class=\"line\">%s</div>", lines[i]);
    hf_text_add(out, "<div class=\"line wide\">Remarks</div></div>\n");
}

static void add_part(const hf_sheet *sheet, const hf_sheet_part *part, size_t number,
                     const hf_report_style *style, hf_text *out) {
    const hf_rig *rig = &sheet->campaign->rig;
    char dwell[HF_NUMBER_SIZE];
    hf_text_addf(out, "<section class=\"part\">\n<h2>%zu of %zu: ", number, sheet->part_count);
    add_name(out, part->specimen->id);
    if (rig->dwell_s.given)
        hf_text_addf(out, "<small>wait %s s on each rung</small>",
                     hf_number_shortest(rig->dwell_s.value, dwell));
    hf_text_add(out, "</h2>\n");
    if (part->ladder)
        add_rungs(sheet, part->ladder, style, out);
    else
        hf_text_add(out, "<p>No ladder is planned for this design: write down each load that held.</p>\n");
    add_result(out);
    hf_text_add(out, "</section>\n");
}

/* Which plan this paper is of. */
static void add_origin(const hf_plan_record *plan, hf_text *out) {
    if (!plan->made) return;
    hf_text_add(out, " Plan of ");
    hf_html_add(out, plan->made);
    if (plan->seed.given) hf_text_addf(out, ", order by seed %.0f", plan->seed.value);
    hf_text_add(out, ".");
}

void hf_sheet_html(const hf_sheet *sheet, const hf_report_style *style, hf_text *out) {
    const hf_campaign *campaign = sheet->campaign;
    const char *title = campaign->title[0] ? campaign->title : "Worksheet";
    hf_text_add(out, page_head);
    hf_text_add(out, "<title>");
    add_name(out, title);
    hf_text_add(out, ": worksheet</title>\n");
    hf_text_add(out, page_style);
    hf_text_add(out, "</head>\n<body>\n<main>\n<h1>");
    add_name(out, title);
    hf_text_add(out, ": worksheet</h1>\n");
    add_safety(out);
    hf_text_add(out, "<p>Pull in this order. Tare (hanger, hook, rope below the part): ");
    add_load(out, style, campaign->rig.force.tare);
    hf_text_add(out, ", already counted in the force. Tick a rung when it has held its dwell.");
    add_origin(&campaign->plan, out);
    hf_text_add(out, "</p>\n");
    for (size_t i = 0; i < sheet->part_count; i++) add_part(sheet, &sheet->parts[i], i + 1, style, out);
    hf_text_add(out, "</main>\n</body>\n</html>\n");
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
