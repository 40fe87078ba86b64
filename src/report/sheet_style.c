/* The looks of the worksheet. */
#include <string.h>
#include "report/sheet_parts.h"

enum { TITLE_MOST = 64 }; /* columns of the title on top of every page: two lines at most beside the date */

/* Ink only: black on white, heavy rules, boxes large enough for a gloved hand. */
static const char looks[] =
    ":root{color-scheme:light}\n"
    "*{box-sizing:border-box}\n"
    "body{font:12pt/1.35 system-ui,sans-serif;color:#000;background:#fff;margin:0 "
    "auto;padding:1rem;max-width:52rem}\n"
    "h1{font-size:1.5rem;line-height:1.2;margin:0 0 .6rem}h2{font-size:1.2rem;margin:0 0 "
    ".3rem}p{margin:.3rem 0 .5rem}h1,h2,p,li{overflow-wrap:anywhere}\n"
    ".safety{border:3px solid #000;padding:.6rem .8rem;margin:0 0 1rem}.safety ol{margin:.2rem 0 "
    "0;padding-left:1.4rem}\n"
    ".day,.order,.words{margin:0 0 1rem}.words ul{margin:.2rem 0 "
    "0;padding-left:1.4rem}.unbroken{white-space:nowrap}"
    ".part{border:2px solid #000;padding:.6rem .8rem .8rem;margin:0 0 1rem}\n"
    "table{border-collapse:collapse;width:100%;font-size:11pt}\n"
    "th,td{border:1px solid #000;padding:.2rem "
    ".45rem;text-align:left;vertical-align:middle;overflow-wrap:break-word}th{line-height:1.15}\n"
    ".n{text-align:right;white-space:nowrap}.c{text-align:center}th.n,th.c{white-space:normal}"
    "th.n{width:5.4rem}th.h{width:4.6rem}.name "
    "td,.end>td{border:0;padding:0}th.c{width:4.2rem}th.t{width:5.6rem}th.r{width:3.6rem}\n"
    ".box{display:inline-block;width:1.5em;height:1.5em;border:2px solid "
    "#000;vertical-align:middle;flex:none}\n"
    ".ticks{list-style:none;margin:.7rem 0 .2rem;padding:0;display:flex;flex-wrap:wrap;gap:.45rem 1.3em}"
    ".ticks li{display:flex;align-items:center;gap:.5em}\n"
    ".fill{display:grid;grid-template-columns:repeat(auto-fit,minmax(9rem,1fr));gap:0 "
    ".8rem}.wide{grid-column:1/-1}small{font-weight:400;font-size:11pt;margin-left:1em}\n"
    ".line{border-bottom:1.5px solid #000;min-height:3.2rem;font-size:10pt;padding-top:.25rem}\n"
    ".turns{list-style:none;margin:0;padding:0;columns:20rem;column-gap:1.2rem}.turns "
    "li{display:flex;align-items:center;gap:.6em;min-height:2.7rem;border-bottom:1.5px solid "
    "#000;break-inside:avoid}.turns strong{min-width:1.6em;text-align:right}.turns "
    "span:last-child{flex:1;min-width:0;"
    "display:-webkit-box;-webkit-box-orient:vertical;-webkit-line-clamp:2;overflow:hidden}\n";

/* A part has a page of its own unless two fit; the remarks take what its rungs leave. */
static const char on_paper[] =
    "@media print{body{padding:0;max-width:none;font-size:11pt}h1{font-size:18pt}h2{font-size:14pt}"
    "table{font-size:11pt}th,td{padding:.3mm 1.8mm}tbody td{height:var(--row,9mm)}"
    ".first,.whole>.part{display:flex;flex-direction:column;min-height:234mm;margin:0}.whole,.long,:not(."
    "half)+.half{break-before:page}"
    ".safety,.words{margin-bottom:3mm;font-size:10.5pt}.day,.order{margin-bottom:3mm}"
    ".notes{break-inside:avoid}.first .notes,.whole .result,.whole .fill{flex:1 0 auto}.whole "
    ".result{display:flex;flex-direction:column}"
    ".whole .fill{grid-template-rows:auto 1fr}.whole .wide,.long .wide{grid-column:1/-1}"
    "th.n{width:20mm}th.h{width:17mm}th.r{width:12mm}th.c{width:14mm}th.t{width:19mm}.c "
    ".box{width:min(5.5mm,var(--row) - "
    "2mm);height:min(5.5mm,var(--row) - 2mm)}"
    ".part{padding:3mm;break-inside:avoid;margin:0 0 5mm}.long>.part{break-inside:auto}"
    ".result{break-inside:avoid}.ticks{margin:3mm 0 0;gap:2mm 6mm}.box{width:5.5mm;height:5.5mm}"
    ".fill{grid-template-columns:repeat(4,1fr);gap:0 "
    "4mm;margin-top:2mm}.wide{grid-column:2/-1}.line{min-height:14mm}"
    ".turns{columns:2;column-gap:8mm}.turns li{min-height:9.5mm}.turns.many{columns:3;column-gap:6mm}.many "
    "li{min-height:7mm}.many .box{width:4.5mm;height:4.5mm}"
    "thead{display:table-header-group}tr{break-inside:avoid}}\n";

static const char on_a_phone[] =
    "@media screen and (max-width:40rem){.heads{display:none}tbody,thead,table,.name,.name "
    "td,.end>td{display:block}"
    "tbody tr:not(.end){display:grid;grid-template-columns:1.4rem 1fr auto;grid-template-areas:'r d k' 'r h "
    "s' 'r a s' 'r f s';gap:.2rem .6rem;align-items:center;border:1px solid #000;border-top:0;padding:.5rem}"
    "tbody tr:first-child{border-top:1px solid #000}tr.end{display:block}tbody tr:not(.end) "
    "td{border:0;padding:0}td.t{display:none}"
    "td.r{grid-area:r;text-align:left;font-weight:700}td.d{grid-area:d;font-weight:700}"
    "td.h{grid-area:h;text-align:left}td.a{grid-area:a;text-align:left}td.f{grid-area:f;text-align:left}"
    "td.k{grid-area:k;text-align:right;white-space:nowrap}td.s{grid-area:s;text-align:right;"
    "white-space:nowrap}td.h::before{content:'hangs in all '}.added td.a::before{content:'added "
    "'}.total td.a::before{content:'total '}td.f::before{content:'force '}td.k::before{content:'held "
    "'}td.s::before{content:'set seen '}}\n";

/* In a string of a style sheet every sign of ASCII that is neither letter nor digit may end or mean something. */
static void add_string(hf_text *out, const char *text) {
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        bool plain = c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
        if (plain || c == ' ')
            hf_text_add_bytes(out, text, 1);
        else
            hf_text_addf(out, "\\%X ", c < 0x20 || c == 0x7F ? 0x20U : (unsigned)c);
    }
}

static void add_title(hf_text *out, const char *title) {
    hf_text clean = {0};
    hf_add_clean(&clean, title, " ");
    const char *whole = clean.bytes ? clean.bytes : "";
    bool cut = hf_text_columns(whole) > TITLE_MOST;
    if (cut && clean.bytes) clean.bytes[hf_text_cut(whole, TITLE_MOST - 1)] = '\0';
    add_string(out, whole);
    if (cut) hf_text_add(out, "…");
    out->failed = out->failed || clean.failed;
    hf_text_free(&clean);
}

void hf_sheet_style(hf_text *out, const char *title) {
    hf_text_add(out, "<style>\n");
    hf_text_add(out, looks);
    hf_text_add(out, "@page{margin:20mm 12mm 15mm;@top-left{content:\"");
    add_title(out, title);
    hf_text_add(
        out, "\";font:bold 10pt/1.2 system-ui,sans-serif;color:#000;text-align:left;vertical-align:bottom;"
             "overflow-wrap:anywhere;padding-bottom:3mm}"
             "@top-right{content:\"Date\\3A  __________________\";font:10pt/1.2 "
             "system-ui,sans-serif;color:#000;width:60mm;text-align:right;vertical-align:bottom;white-space:"
             "nowrap;padding-bottom:3mm}"
             "@bottom-right{content:\"page \" counter(page) \" of \" counter(pages);font:10pt "
             "system-ui,sans-serif;color:#000;vertical-align:top;padding-top:3mm}}\n");
    hf_text_add(out, on_paper);
    hf_text_add(out, on_a_phone);
    hf_text_add(out, "</style>\n");
}
