/* How a page looks: a printed report, on paper as on the screen. Blue is what was pulled, vermilion what is promised, as in the charts;
 * neither ever stands for anything alone. Contrast of text is at least 4.5:1, of lines that matter 3:1, in both modes. */
#include "report/html_page.h"

#include <stddef.h>

/* clang-format off */
static const char colors[] =
    ":root{color-scheme:light dark;--paper:#fff;--ink:#1b1f24;--soft:#4f5863;--rule:#d3d8de;--line:#6d7681;--blue:#0072b2;--promise:#d55e00;--shade:#0004}\n"
    "@media screen and (prefers-color-scheme:dark){:root{--paper:#16191d;--ink:#e8eaed;--soft:#b4bcc6;--rule:#343b44;--line:#8a939e;--blue:#56b4e9;"
    "--promise:#ff9e57;--shade:#fff5}}\n";

static const char words[] =
    "*{box-sizing:border-box}\n"
    "html{-webkit-text-size-adjust:100%;text-size-adjust:100%;scroll-padding-top:1rem}\n"
    "body{margin:0;background:var(--paper);color:var(--ink);overflow-wrap:anywhere;"
    "font:1rem/1.55 system-ui,-apple-system,\"Segoe UI\",\"Noto Sans\",\"DejaVu Sans\",sans-serif}\n"
    "header,main{max-width:48rem;margin:0 auto;padding:0 1rem}\n"
    "header{padding-top:2rem}main{padding-bottom:4rem}\n"
    "section{margin:3rem 0 0}section.first{margin-top:1.25rem}\n"
    "h1{font-size:1.15rem;font-weight:600;line-height:1.35;margin:0;color:var(--soft)}\n"
    "h2{font-size:1.45rem;line-height:1.25;margin:0 0 .75rem;padding-top:1.1rem;border-top:2px solid var(--ink)}\n"
    "section.first>h2{border:0;padding:0;font-size:1rem;margin:0 0 .25rem}\n"
    "h3{font-size:1.08rem;line-height:1.35;margin:2rem 0 .5rem}h1,h2,h3{text-align:left}\n"
    "p{margin:0 0 .7rem}ul{margin:0 0 1rem;padding-left:1.2rem}li{margin:0 0 .45rem}\n"
    ".card{border-left:6px solid var(--promise);padding:.1rem 0 .1rem 1rem;margin:1.4rem 0}\n"
    ".card p{margin:0 0 .35rem}.card p:last-child{margin-bottom:0}.card .answer+p~p{font-size:.94rem}\n"
    ".card .answer{font-size:1.6rem;line-height:1.25;font-weight:700;margin:0 0 .5rem;text-wrap:balance}\n"
    ".safety{font-size:.94rem}\n"
    ".finding{font-weight:600;margin-top:1.1rem}\n"
    ".sum{border-left:3px solid var(--line);padding-left:1rem;margin:0 0 1rem;font-variant-numeric:tabular-nums}\n"
    ".sum p{margin:0 0 .15rem;padding-left:1.5rem;text-indent:-1.5rem}\n"
    "a{color:var(--blue)}:focus-visible{outline:3px solid var(--blue);outline-offset:2px}\n"
    ".skip{position:absolute;left:-100vw;top:0;padding:.6rem 1rem;background:var(--paper)}.skip:focus{left:0;z-index:1}\n"
    ".hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}\n"
    "nav{margin:2.2rem 0 0;font-size:.94rem}nav h2{font-size:.94rem;border:0;padding:0;margin:0 0 .3rem;color:var(--soft)}\n"
    "nav ol{list-style:none;margin:0;padding:0;columns:15rem 3;column-gap:1.5rem}\n"
    "nav li{margin:0 0 .2rem;padding:.12rem 0;break-inside:avoid}\n";

static const char pictures[] =
    ".box{overflow-x:auto;max-width:100%}.box.table{margin:0 0 1rem}\n"
    "figure{margin:1rem 0 1.2rem}figcaption{color:var(--soft);font-size:.94rem;margin-top:.3rem}\n"
    ".hf-chart{display:block;width:100%;height:auto;min-width:26rem;max-width:44rem}\n"
    "table{border-collapse:collapse;min-width:min(100%,22rem);font-size:.9rem;line-height:1.4;font-variant-numeric:tabular-nums}\n"
    "caption{text-align:left;color:var(--soft);padding:0 0 .35rem}\n"
    "th,td{text-align:left;vertical-align:top;padding:.32rem 1.3rem .32rem 0;font-weight:400}th:last-child,td:last-child{padding-right:0}\n"
    "th,td{overflow-wrap:break-word}.long{overflow-wrap:anywhere}\n"
    "thead th{overflow-wrap:normal;font-weight:600;vertical-align:bottom;border-bottom:1.5px solid var(--ink)}\n"
    "tbody th,tbody td{border-bottom:1px solid var(--rule)}\n"
    ".n{text-align:right;white-space:nowrap}\n"
    ".many tbody th:not(.n){min-width:6.5rem}.many.tells td:last-child{min-width:12rem}.few tbody th:not(.n){min-width:7.5rem}\n"
    ".wide td:not(.n){min-width:5.5rem}\n"
    ".wide{font-size:.84rem}.wide th,.wide td{padding-right:1rem}\n";

static const char widths[] =
    "@media (max-width:40rem){.box{scrollbar-width:thin;scrollbar-color:var(--line) transparent;background:"
    "linear-gradient(90deg,var(--paper) 40%,transparent) 0 0/2.5rem 100% no-repeat local,"
    "linear-gradient(270deg,var(--paper) 40%,transparent) 100% 0/2.5rem 100% no-repeat local,"
    "linear-gradient(90deg,var(--shade),transparent) 0 0/.8rem 100% no-repeat,"
    "linear-gradient(270deg,var(--shade),transparent) 100% 0/.8rem 100% no-repeat}.box .hf-chart .paper{fill:none}}\n"
    "@media (min-width:48rem){caption.short{white-space:nowrap}}\n"
    "@media (min-width:40rem){header{padding-top:3rem}header,main{max-width:52rem;padding-left:2rem;padding-right:2rem}"
    ".card .answer{font-size:1.9rem}}\n"
    "@media (min-width:76rem){header,main{max-width:74rem}header{padding-left:20rem}"
    "main{display:grid;grid-template-columns:14rem minmax(0,54rem);column-gap:4rem}main>*{grid-column:2}"
    "main>nav{grid-column:1;grid-row:1/span 99;align-self:start;position:sticky;top:1.5rem;margin-top:1.25rem;"
    "max-height:calc(100vh - 3rem);overflow-y:auto}nav ol{columns:auto}p,li,figcaption{max-width:46rem}.card .answer{max-width:none}"
    ".broad{max-width:none;width:calc(100% + max(0px,(100vw - 74rem)/2))}}\n";

static const char paper[] =
    "@page{margin:16mm 15mm}\n"
    "@media print{:root{color-scheme:light;--ink:#000;--soft:#333;--rule:#bbb}\n"
    "html{font-size:9.5pt}nav,.skip{display:none}header,main{max-width:none;padding:0;display:block}section{margin-top:1.6rem}\n"
    "h1,h2,h3,caption,thead{break-after:avoid}figure,.card,.sum,li,tr,caption,thead{break-inside:avoid}p{orphans:3;widows:3}\n"
    ".box{overflow:visible}.hf-chart{min-width:0;max-width:140mm}thead{display:table-header-group}\n"
    "tbody tr:last-child,.table+p,.sum{break-before:avoid}tbody tr:first-child{break-after:avoid}caption.short{white-space:normal}\n"
    ".broad{width:auto}.wide th,.wide td,.many.tells td,.many.tells tbody th{overflow-wrap:anywhere}\n"
    "table{font-size:8.5pt}.many tbody th:not(.n),.many.tells td:last-child,.wide td:not(.n){min-width:4rem}\n"
    ".wide{font-size:7pt}.wide th,.wide td{padding-right:.6rem}}\n";
/* clang-format on */

const char *const hf_html_style[] = {colors, words, pictures, widths, paper, NULL};
