#include "holdfast/handover/one_file.h"

#include <string.h>
#include "holdfast/base/file.h"
#include "holdfast/base/json.h"
#include "pages/site.h"

/* As src/page/page.html has them. */
static const char campaign_place[] = "<script type=\"application/json\" id=\"campaign\">null</script>";
static const char campaign_start[] = "<script type=\"application/json\" id=\"campaign\">";
static const char site_place[] = "<meta name=\"holdfast-site\" content=\"no\">";
static const char site_links[] =
    "<link rel=\"manifest\" href=\"holdfast.webmanifest\">\n<link rel=\"icon\" href=\"icon.svg\">";

static bool stands_once(const char *text, const char *words) {
    const char *first = strstr(text, words);
    return first && !strstr(first + 1, words);
}

bool hf_one_file_is(const hf_text *page) {
    return page->length && stands_once(page->bytes, campaign_place) && stands_once(page->bytes, site_place);
}

static const char *last_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* As JSON within an element that a "<" could end. */
static void add_campaign(const hf_campaign *campaign, hf_text *out) {
    hf_text inside = {0};
    hf_text_add(&inside, "{\"name\":");
    hf_json_quote(&inside, last_name(campaign->file));
    hf_text_add(&inside, ",\"text\":");
    hf_json_quote(&inside, campaign->text);
    hf_text_add(&inside, "}");
    for (const char *at = inside.bytes; at && *at;) {
        size_t plain = strcspn(at, "<");
        hf_text_add_bytes(out, at, plain);
        at += plain;
        if (*at != '<') continue;
        hf_text_add(out, "\\u003c");
        at++;
    }
    out->failed |= inside.failed;
    hf_text_free(&inside);
}

void hf_one_file_write(const hf_text *page, const hf_campaign *campaign, bool in_site, hf_text *out) {
    const char *site = strstr(page->bytes, site_place), *place = strstr(page->bytes, campaign_place);
    hf_text_add_bytes(out, page->bytes, (size_t)(site - page->bytes));
    hf_text_add(out, in_site ? site_links : site_place);
    site += sizeof site_place - 1;
    hf_text_add_bytes(out, site, (size_t)(place - site));
    hf_text_add(out, campaign_start);
    if (campaign)
        add_campaign(campaign, out);
    else
        hf_text_add(out, "null");
    hf_text_add(out, "</script>");
    hf_text_add(out, place + sizeof campaign_place - 1);
}

const char *hf_one_file_beside(size_t at, const hf_text *page, hf_text *out) {
    char digest[65];
    switch (at) {
    case 0: /* another page is another worker, which a browser then takes */
        hf_file_sha256(page->bytes, page->length, digest);
        hf_text_addf(out, "const PAGE = \"holdfast-%s\";\n", digest);
        hf_text_add_lines(out, hf_page_site_worker_js);
        return "service-worker.js";
    case 1:
        hf_text_add_lines(out, hf_page_site_manifest_json);
        return "holdfast.webmanifest";
    case 2:
        hf_text_add_lines(out, hf_page_site_icon_svg);
        return "icon.svg";
    default:
        return NULL;
    }
}
