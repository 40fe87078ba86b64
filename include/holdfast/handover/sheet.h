/* The worksheet for test day as a page to print, and the ladder as a table.
 *
 * One block per part with its rungs already printed: what to hang next, a box for "held", a place for what happened. It works with a
 * pencil, in black and white, with gloves on. One file, no network. */
#ifndef HOLDFAST_HANDOVER_SHEET_H
#define HOLDFAST_HANDOVER_SHEET_H

#include "holdfast/words/report.h"
#include "holdfast/study/sheet.h"

/* The page (HTML, A4 and Letter). `asked`: unit of the loads that are read off and written down, what is added to the rig or the total. */
void hf_sheet_html(const hf_sheet *sheet, const hf_report_style *style, const hf_unit *asked, hf_text *out);
/* The ladders as CSV: design, rung, force, recorded load, what hangs, what to do. */
void hf_sheet_csv(const hf_sheet *sheet, const hf_report_style *style, hf_text *out);

#endif
