#include "holdfast/handover/sheet.h"

#include <string.h>
#include "holdfast/base/number.h"
#include "words/words.h"
#include "document/html.h"
#include "handover/sheet_parts.h"

enum {
    DOING_COLUMNS = 40, /* of what to do, in one line of a row; */
    DOING_BESIDE = 30,  /* beside all that hangs */
    MANY_PARTS = 8,     /* more are listed in small print */
    NOTED_PARTS = 30,   /* more leave no room for notes on the first page */
    EXACT_FIGURES = 12  /* of what weights and gravity make, without the last bit of binary arithmetic */
};

/* Millimetres of paper: what a page of A4 or Letter leaves to the rows of a part, and rows that a gloved hand can fill. */
static const double room_whole = 162, room_half = 46, row_least = 6.7, row_most = 12;

static const char page_head[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
    "content=\"width=device-width, initial-scale=1\">\n";

/* So many figures, no zeros behind. */
static const char *plain_number(double value, int figures, char out[HF_NUMBER_SIZE]) {
    double rounded = value;
    hf_number_figures(value, figures, out);
    (void)hf_number_read(out, strlen(out), &rounded);
    return hf_number_shortest(rounded, out);
}

/* A number and its unit stay on one line. */
static void add_unbroken(hf_text *out, const char *words) {
    char one[2] = {0};
    for (char before = 0; *words; before = *words++) {
        one[0] = *words;
        if (*words == ' ' && before >= '0' && before <= '9' && strncmp(words, " and ", 5) != 0)
            hf_text_add(out, "&#160;");
        else
            hf_html_add(out, one);
    }
}

static const char *doing(const hf_sheet_rung *rung) {
    return rung->doing[0] ? rung->doing : rung->hangs;
}

/* What is printed, and in which units: of forces on the part, and of the loads that people read off and write down. */
typedef struct paper {
    const hf_sheet *sheet;
    const hf_report_style *forces;
    hf_report_style asked;
} paper;

/* All that hangs has a column of its own, unless the recorded load says just that. */
static bool shows_stack(const paper *p, const hf_sheet_ladder *ladder) {
    bool added = p->sheet->campaign->rig.force.records == HF_RIG_RECORDS_ADDED;
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_unit *unit = ladder->rungs[i].hung_unit;
        if (unit && !(added && unit == p->asked.unit)) return true;
    }
    return false;
}

/* Plates in their own unit are round numbers. */
static void add_recorded(const paper *p, double newtons, hf_text *out) {
    char number[HF_NUMBER_SIZE];
    if (p->asked.unit == p->forces->unit) {
        hf_sheet_load(out, p->forces, newtons);
        return;
    }
    hf_text_addf(out, "%s&#160;%s", plain_number(hf_in_unit(&p->asked, newtons), 6, number),
                 p->asked.unit->name);
}

typedef struct block {
    bool stack; /* all that hangs has a column */
    bool
        is_long; /* over several pages: then all of it is rows of the table, so that every page has its head */
} block;

/* How the block of a part lies on paper: two on a page, a page of its own, or over several pages. */
static block open_block(const paper *p, const hf_sheet_ladder *ladder, hf_text *out) {
    block made = {.stack = ladder && shows_stack(p, ladder)};
    size_t lines = 0, columns = made.stack ? DOING_BESIDE : DOING_COLUMNS;
    for (size_t i = 0; ladder && i < ladder->count; i++)
        lines += hf_text_columns(doing(&ladder->rungs[i])) > columns ? 2 : 1;
    const char *kind = "whole";
    double room = room_whole;
    made.is_long = lines && (double)lines * row_least > room_whole;
    if (made.is_long)
        kind = "long";
    else if (lines && (double)lines * row_least * 1.2 < room_half) {
        kind = "half";
        room = room_half;
    }
    double row = lines ? room / (double)lines : row_most;
    row = row < row_least ? row_least : row > row_most ? row_most : row;
    hf_text_addf(out, "<div class=\"%s\" style=\"--row:%.1fmm\">\n", kind, row);
    return made;
}

/* The batch it is to be taken from. */
static void add_batch(const hf_specimen *part, hf_text *out) {
    if (!part->batch) return;
    hf_text_add(out, "<small>from ");
    hf_sheet_name(out, part->batch);
    hf_text_add(out, "</small>");
}

/* Its name and the wait, once on every page that its rungs take. */
static void add_name(const hf_sheet *sheet, size_t at, hf_text *out) {
    const hf_rig *rig = &sheet->campaign->rig;
    char dwell[HF_NUMBER_SIZE];
    hf_text_addf(out, "<h2>%zu of %zu: ", at + 1, sheet->part_count);
    hf_sheet_name(out, sheet->parts[at].specimen->id);
    add_batch(sheet->parts[at].specimen, out);
    if (rig->dwell_s.given)
        hf_text_addf(out, "<small>wait %s&#160;s on each rung</small>",
                     hf_number_shortest(rig->dwell_s.value, dwell));
    hf_text_add(out, "</h2>");
}

static void add_heads(const hf_sheet *sheet, size_t at, block made, hf_text *out) {
    const char *records = hf_sheet_records(sheet->campaign);
    hf_text_addf(out, "<table class=\"%s\">\n<thead><tr class=\"name\"><td colspan=\"%d\">", records,
                 made.stack ? 7 : 6);
    add_name(sheet, at, out);
    hf_text_addf(out,
                 "</td></tr>\n<tr class=\"heads\"><th class=\"n r\">Rung</th><th>Do</th>%s<th "
                 "class=\"n\">%s</th><th class=\"n\">Force on part</th><th class=\"c\">Held</th>"
                 "<th class=\"c\">Set seen</th></tr></thead>\n<tbody>\n",
                 made.stack ? "<th class=\"n h\">Hangs in all</th>" : "",
                 strcmp(records, "added") == 0 ? "Added" : "Total");
}

static void add_stack(const hf_sheet_rung *rung, hf_text *out) {
    char number[HF_NUMBER_SIZE];
    hf_text_add(out, "<td class=\"n h\">");
    if (rung->hung_unit)
        hf_text_addf(out, "%s&#160;%s", plain_number(rung->hung, 5, number), rung->hung_unit->name);
    hf_text_add(out, "</td>");
}

static void add_rungs(const paper *p, const hf_sheet_ladder *ladder, block made, hf_text *out) {
    for (size_t i = 0; i < ladder->count; i++) {
        const hf_sheet_rung *rung = &ladder->rungs[i];
        hf_text_addf(out, "<tr><td class=\"n r\">%zu</td><td class=\"d\">", i + 1);
        add_unbroken(out, doing(rung));
        hf_text_add(out, "</td>");
        if (made.stack) add_stack(rung, out);
        hf_text_add(out, "<td class=\"n a\">");
        add_recorded(p, rung->recorded, out);
        hf_text_add(out, "</td><td class=\"n f\">");
        hf_sheet_load(out, p->forces, rung->force);
        hf_text_add(out, "</td><td class=\"c k\"><span class=\"box\"></span></td><td class=\"c s\"><span "
                         "class=\"box\"></span></td></tr>\n");
    }
}

/* How it ended, in the order in which `record` asks: boxes to tick, lines to write on. Which load is meant stands beside each: force and recorded load differ by the tare. */
static void add_result(const paper *p, hf_text *out) {
    static const char *const ticks[] = {"failed while adding", "failed in the dwell",
                                        "weight dropped on",   "held the last rung, part intact",
                                        "rig or grip let go",  "void: not to be used"};
    static const char *const loads[] = {"Last held", "Failed at"};
    static const char *const lines[] = {"Way of failing (mode)", "Batch; pulled by"};
    hf_text_add(out, "<div class=\"result\">\n<ul class=\"ticks\">");
    for (size_t i = 0; i < sizeof ticks / sizeof *ticks; i++)
        hf_text_addf(out, "<li><span class=\"box\"></span>%s</li>", ticks[i]);
    hf_text_add(out, "</ul>\n<div class=\"fill\">");
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++)
        hf_text_addf(out, "<div class=\"line\">%s (%s,&#160;%s)</div>", loads[i],
                     hf_sheet_records(p->sheet->campaign), p->asked.unit->name);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        hf_text_addf(out, "<div class=\"line\">%s</div>", lines[i]);
    hf_text_add(out, "<div class=\"line wide\">Remarks</div></div>\n</div>\n");
}

static void add_ladder(const paper *p, size_t at, block made, hf_text *out) {
    add_heads(p->sheet, at, made, out);
    add_rungs(p, p->sheet->parts[at].ladder, made, out);
    if (made.is_long) {
        hf_text_addf(out, "<tr class=\"end\"><td colspan=\"%d\">", made.stack ? 7 : 6);
        add_result(p, out);
        hf_text_add(out, "</td></tr>\n");
    }
    hf_text_add(out, "</tbody>\n</table>\n");
}

static void add_part(const paper *p, size_t at, hf_text *out) {
    const hf_sheet_ladder *ladder = p->sheet->parts[at].ladder;
    block made = open_block(p, ladder, out);
    hf_text_add(out, "<section class=\"part\">\n");
    if (ladder)
        add_ladder(p, at, made, out);
    else {
        add_name(p->sheet, at, out);
        hf_text_addf(out,
                     "\n<p>No ladder is planned for this design: write down each load that held "
                     "(%s,&#160;%s).</p>\n",
                     hf_sheet_records(p->sheet->campaign), p->asked.unit->name);
    }
    if (!made.is_long) add_result(p, out);
    hf_text_add(out, "</section>\n</div>\n");
}

/* Every part with a box for "done". */
static void add_turns(const hf_sheet *sheet, hf_text *out) {
    hf_text_addf(out, "<section class=\"order\">\n<h2>In this order</h2>\n<ol class=\"turns%s\">\n",
                 sheet->part_count > MANY_PARTS ? " many" : "");
    for (size_t i = 0; i < sheet->part_count; i++) {
        hf_text_addf(out, "<li><span class=\"box\"></span><strong>%zu</strong><span>", i + 1);
        hf_sheet_name(out, sheet->parts[i].specimen->id);
        add_batch(sheet->parts[i].specimen, out);
        hf_text_add(out, "</span></li>\n");
    }
    hf_text_add(out, "</ol>\n</section>\n");
}

static void add_title(const hf_campaign *campaign, hf_text *out) {
    hf_text_add(out, campaign->title[0] ? "Worksheet: " : "Worksheet");
    hf_sheet_name(out, campaign->title);
}

void hf_sheet_html(const hf_sheet *sheet, const hf_report_style *style, const hf_unit *asked, hf_text *out) {
    const hf_campaign *campaign = sheet->campaign;
    paper p = {sheet, style, *style};
    p.asked.unit = asked;
    hf_text_add(out, page_head);
    hf_text_add(out, "<title>");
    add_title(campaign, out);
    hf_text_add(out, "</title>\n");
    hf_sheet_style(out, campaign->title[0] ? campaign->title : "Worksheet");
    hf_text_add(out, "</head>\n<body>\n<main>\n<div class=\"first\">\n<h1>");
    add_title(campaign, out);
    hf_text_add(out, "</h1>\n");
    hf_sheet_safety(out);
    hf_sheet_day(out, campaign, style);
    hf_sheet_words(out, campaign, asked == campaign->unit ? NULL : asked);
    add_turns(sheet, out);
    if (sheet->part_count <= NOTED_PARTS)
        hf_text_add(out, "<div class=\"line notes\">Notes of the day</div>\n");
    hf_text_add(out, "</div>\n");
    for (size_t i = 0; i < sheet->part_count; i++) add_part(&p, i, out);
    hf_text_add(out, "</main>\n</body>\n</html>\n");
}

/* A cell as RFC 4180 wants it; one that a spreadsheet would run as a formula gets a quote in front. */
static void add_cell(hf_text *out, const char *text) {
    hf_text_add(out, strchr("=+-@", text[0]) && text[0] ? "\"'" : "\"");
    for (; *text; text++) hf_text_add_bytes(out, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    hf_text_add(out, "\"");
}

void hf_sheet_csv(const hf_sheet *sheet, const hf_report_style *style, hf_text *out) {
    char force[HF_NUMBER_SIZE], recorded[HF_NUMBER_SIZE];
    hf_text_addf(out, "design,rung,force [%s],recorded [%s],hangs,do\n", style->unit->name,
                 style->unit->name);
    for (size_t i = 0; i < sheet->ladder_count; i++)
        for (size_t j = 0; j < sheet->ladders[i].count; j++) {
            const hf_sheet_rung *rung = &sheet->ladders[i].rungs[j];
            add_cell(out, sheet->ladders[i].design->id);
            hf_text_addf(out, ",%zu,%s,%s,", j + 1,
                         plain_number(hf_in_unit(style, rung->force), EXACT_FIGURES, force),
                         plain_number(hf_in_unit(style, rung->recorded), EXACT_FIGURES, recorded));
            add_cell(out, rung->hangs);
            hf_text_add(out, ",");
            add_cell(out, rung->doing);
            hf_text_add(out, "\n");
        }
}
