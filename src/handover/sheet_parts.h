/* What the worksheet's pages share: the looks, and names that are safe in them. */
#ifndef HF_HANDOVER_SHEET_PARTS_H
#define HF_HANDOVER_SHEET_PARTS_H

#include "holdfast/campaign/campaign.h"
#include "words/words.h"

/* A name of the campaign; a very long one is cut, so that the sheet stays a sheet. */
void hf_sheet_name(hf_text *out, const char *name);
void hf_sheet_load(hf_text *out, const hf_report_style *style, double newtons);
/* The <style> of the page. Every printed page carries `title`, a line for the date, and its number. */
void hf_sheet_style(hf_text *out, const char *title);
/* The first page: cautions, the rig, who and where; and the order of the parts when there is one to keep. */
void hf_sheet_safety(hf_text *out);
void hf_sheet_day(hf_text *out, const hf_campaign *campaign, const hf_report_style *style);
/* `asked`: unit of the loads to write down where it is not the file's; NULL. */
void hf_sheet_words(hf_text *out, const hf_campaign *campaign, const hf_unit *asked);
/* "added" or "total": which load is written down. */
const char *hf_sheet_records(const hf_campaign *campaign);

#endif
