#include "holdfast/report/sheet.h"

#include <string.h>
#include "holdfast/base/number.h"
#include "report/document.h"
#include "report/html.h"
#include "report/sheet_parts.h"

enum {
    DOING_COLUMNS = 40, /* of what to do, in one line of a row */
    MANY_PARTS = 20,    /* more are listed in small print */
    NOTED_PARTS = 30    /* more leave no room for notes on the first page */
};

/* Millimetres of paper: what a page of A4 or Letter leaves to the rows of a part, and rows that a gloved hand can fill. */
static const double room_whole = 162, room_half = 46, row_least = 6.7, row_most = 12;

static const char page_head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
    "content=\"width=device-width, initial-scale=1\">\n";

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

static const char *doing(const hf_sheet_rung *rung) {
    return rung->doing[0] ? rung->doing : rung->hangs;
}

/* How the block of a part lies on paper: two on a page, a page of its own, or over several pages. */
static void open_block(const hf_sheet_ladder *ladder, hf_text *out) {
    size_t lines = 0;
    for (size_t i = 0; ladder && i < ladder->count; i++)
        lines += hf_text_columns(doing(&ladder->rungs[i])) > DOING_COLUMNS ? 2 : 1;
    const char *kind = "whole";
    double room = room_whole;
    if (lines && (double)lines * row_least > room_whole)
        kind = "long";
    else if (lines && (double)lines * row_least * 1.2 < room_half) {
        kind = "half";
        room = room_half;
    }
    double row = lines ? room / (double)lines : row_most;
    row = row < row_least ? row_least : row > row_most ? row_most : row;
    hf_text_addf(out, "<div class=\"%s\" style=\"--row:%.1fmm\">\n", kind, row);
}

static void add_heads(const hf_sheet *sheet, const hf_sheet_part *part, hf_text *out) {
    bool added = sheet->campaign->rig.force.records != HF_RIG_RECORDS_TOTAL;
    hf_text_add(out, "<table>\n<thead><tr class=\"again\"><th colspan=\"7\">");
    hf_sheet_name(out, part->specimen->id);
    hf_text_addf(out,
                 "</th></tr><tr><th class=\"n r\">Rung</th><th>Do</th><th "
                 "class=\"n\">%s</th><th class=\"n\">Force on part</th><th class=\"c\">Held</th>"
                 "<th class=\"t\">Time</th><th class=\"c\">Set seen</th></tr></thead>\n<tbody>\n",
                 added ? "Added" : "Total");
}

static void add_rungs(const hf_sheet *sheet, const hf_sheet_part *part, const hf_report_style *style,
                      hf_text *out) {
    const hf_sheet_ladder *ladder = part->ladder;
    add_heads(sheet, part, out);
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_sheet_rung *rung = &ladder->rungs[i];
        hf_text_addf(out, "<tr><td class=\"n\">%zu</td><td>", i + 1);
        add_unbroken(out, doing(rung));
        hf_text_add(out, "</td><td class=\"n\">");
        hf_sheet_load(out, style, rung->recorded);
        hf_text_add(out, "</td><td class=\"n\">");
        hf_sheet_load(out, style, rung->force);
        hf_text_add(out, "</td><td class=\"c\"><span class=\"box\"></span></td><td class=\"t\"></td><td "
                         "class=\"c\"><span class=\"box\"></span></td></tr>\n");
    }
    hf_text_add(out, "</tbody>\n</table>\n");
}

/* How it ended: boxes to tick, lines to write on. */
static void add_result(hf_text *out) {
    static const char *const ticks[] = {"failed while adding", "failed in the dwell", "weight dropped on",
                                        "out of weight, part intact", "rig or grip let go"};
    static const char *const lines[] = {"Failed at", "Last held", "Way it broke (mode)", "Batch, initials"};
    hf_text_add(out, "<div class=\"result\">\n<ul class=\"ticks\">");
    for (size_t i = 0; i < sizeof ticks / sizeof *ticks; i++)
        hf_text_addf(out, "<li><span class=\"box\"></span>%s</li>", ticks[i]);
    hf_text_add(out, "</ul>\n<div class=\"fill\">");
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        hf_text_addf(out, "<div class=\"line\">%s</div>", lines[i]);
    hf_text_add(out, "<div class=\"line wide\">Remarks</div></div>\n</div>\n");
}

static void add_part(const hf_sheet *sheet, const hf_sheet_part *part, size_t number,
                     const hf_report_style *style, hf_text *out) {
    const hf_rig *rig = &sheet->campaign->rig;
    char dwell[HF_NUMBER_SIZE];
    open_block(part->ladder, out);
    hf_text_addf(out, "<section class=\"part\">\n<h2>%zu of %zu: ", number, sheet->part_count);
    hf_sheet_name(out, part->specimen->id);
    if (rig->dwell_s.given)
        hf_text_addf(out, "<small>wait %s s on each rung</small>",
                     hf_number_shortest(rig->dwell_s.value, dwell));
    hf_text_add(out, "</h2>\n");
    if (part->ladder)
        add_rungs(sheet, part, style, out);
    else
        hf_text_add(out, "<p>No ladder is planned for this design: write down each load that held.</p>\n");
    add_result(out);
    hf_text_add(out, "</section>\n</div>\n");
}

/* Every part with a box for "done". */
static void add_turns(const hf_sheet *sheet, hf_text *out) {
    hf_text_addf(out, "<section class=\"order\">\n<h2>In this order</h2>\n<ol class=\"turns%s\">\n",
                 sheet->part_count > MANY_PARTS ? " many" : "");
    for (size_t i = 0; i < sheet->part_count; i++) {
        hf_text_addf(out, "<li><span class=\"box\"></span><strong>%zu</strong><span>", i + 1);
        hf_sheet_name(out, sheet->parts[i].specimen->id);
        hf_text_add(out, "</span></li>\n");
    }
    hf_text_add(
        out, "</ol>\n<p>Tick a part when it is done, a rung when it has held its dwell.</p>\n</section>\n");
}

void hf_sheet_html(const hf_sheet *sheet, const hf_report_style *style, hf_text *out) {
    const hf_campaign *campaign = sheet->campaign;
    const char *title = campaign->title[0] ? campaign->title : "Worksheet";
    hf_text_add(out, page_head);
    hf_text_add(out, "<title>");
    hf_sheet_name(out, title);
    hf_text_addf(out, "%s</title>\n", campaign->title[0] ? ": worksheet" : "");
    hf_sheet_style(out, title);
    hf_text_add(out, "</head>\n<body>\n<main>\n<div class=\"first\">\n<h1>");
    hf_sheet_name(out, title);
    hf_text_addf(out, "%s</h1>\n", campaign->title[0] ? ": worksheet" : "");
    hf_sheet_safety(out);
    hf_sheet_day(out, campaign, style);
    add_turns(sheet, out);
    if (sheet->part_count <= NOTED_PARTS)
        hf_text_add(out, "<div class=\"line notes\">Notes of the day</div>\n");
    hf_text_add(out, "</div>\n");
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
