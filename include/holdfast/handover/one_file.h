/* Holdfast in one HTML file: the program itself as a page, for whoever has a browser and nothing else.
 *
 * The page is made by the build (preset "page"), not by the program: what is done here is to put a campaign into it, to be sent to a phone and
 * opened there, or to lay it out as a site that a phone can install. The page is a text with two places for that; all else of it stays. */
#ifndef HOLDFAST_HANDOVER_ONE_FILE_H
#define HOLDFAST_HANDOVER_ONE_FILE_H

#include "holdfast/base/error.h"
#include "holdfast/campaign/campaign.h"

/* Whether the text is such a page: both places stand in it once. */
bool hf_one_file_is(const hf_text *page);

/* Appends the page to *out, with the campaign (NULL: none) inside, and as part of a site where that is said. HF_MEMORY is left to out->failed. */
void hf_one_file_write(const hf_text *page, const hf_campaign *campaign, bool in_site, hf_text *out);

/* What else a site needs: file `at` beside its index.html, which is `page`, appended to *out; its name, or NULL past the last. */
const char *hf_one_file_beside(size_t at, const hf_text *page, hf_text *out);

#endif
