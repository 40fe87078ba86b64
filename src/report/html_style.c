/* How a page looks: a printed report, on paper as on the screen. Ink on paper and one accent, the vermilion that stands in the charts for
 * what is promised; it never stands for anything alone. Contrast of text is at least 4.5:1, of lines that matter 3:1, in both modes.
 * Sizes are steps of one scale: 1.2 up and down, with half a step down for what stands beside the text. */
#include "report/html_page.h"

#include <stddef.h>

/* clang-format off */
static const char colors[] =
    ":root{color-scheme:light dark;--paper:#fff;--ink:#1b1f24;--soft:#4f5863;--rule:#d3d8de;--line:#6d7681;--promise:#d55e00;"
    "--xs:.833rem;--s:.913rem;--m:1rem;--l:1.2rem;--xl:1.44rem;--xxl:2.488rem}\n"
    "@media screen and (prefers-color-scheme:dark){:root{--paper:#16191d;--ink:#e8eaed;--soft:#b4bcc6;--rule:#343b44;--line:#8a939e;"
    "--promise:#ff9e57}}\n";

static const char words[] =
    "*{box-sizing:border-box}\n"
    "html{-webkit-text-size-adjust:100%;text-size-adjust:100%;scroll-padding-top:1rem}\n"
    "body{margin:0;background:var(--paper);color:var(--ink);overflow-wrap:anywhere;"
    "font:var(--m)/1.55 system-ui,-apple-system,\"Segoe UI\",\"Noto Sans\",\"DejaVu Sans\",sans-serif}\n"
    "header,main{max-width:48rem;margin:0 auto;padding:0 1rem}\n"
    "header{padding-top:1.5rem}main{padding-bottom:4rem}\n"
    "section{margin:3.5rem 0 0}section.first{margin-top:1rem}\n"
    "h1{font-size:var(--l);font-weight:600;line-height:1.3;margin:0;color:var(--soft)}\n"
    "h2{font-size:var(--xl);line-height:1.25;margin:0 0 1rem;padding-top:1rem;border-top:1px solid var(--ink)}\n"
    "section.first>h2{border:0;padding:0;font-size:var(--m);margin:0 0 .75rem}\n"
    "h3{font-size:var(--l);line-height:1.3;margin:2.5rem 0 .6rem}h2+h3{margin-top:0}h1,h2,h3{text-align:left;text-wrap:balance}\n"
    "p{margin:0 0 .7rem}ul{margin:0 0 1rem;padding-left:1.2rem}li{margin:0 0 .45rem}\n"
    ".cards{display:grid;gap:1.75rem 2.5rem;margin:0 0 1.5rem}.card{border-top:3px solid var(--promise);padding-top:.7rem;min-width:0}\n"
    ".card p{margin:0 0 .45rem;font-size:var(--s);line-height:1.45}.card p:last-child{margin-bottom:0}.card b{font-weight:600}\n"
    ".card .answer{font-size:var(--l);line-height:1.3;font-weight:600;margin:0 0 .6rem;text-wrap:balance}.card .answer+p{font-size:var(--m)}\n"
    ".answer span,.answer strong{display:block}.answer strong{font-size:var(--xxl);line-height:1.15;font-weight:700;font-variant-numeric:tabular-nums}\n"
    ".safety{font-size:var(--s)}\n"
    ".finding{font-weight:600;margin-top:1.1rem}\n"
    ".sum{border-left:2px solid var(--line);padding-left:1rem;margin:0 0 1rem;font-variant-numeric:tabular-nums}\n"
    ".sum p{margin:0 0 .15rem;padding-left:1.5rem;text-indent:-1.5rem}\n"
    "a{color:inherit;text-decoration-thickness:1px;text-underline-offset:.2em}a:hover{text-decoration-thickness:2px}\n"
    ":focus-visible{outline:3px solid var(--promise);outline-offset:3px}\n"
    ".skip{position:absolute;left:-100vw;top:0;padding:.6rem 1rem;background:var(--paper)}.skip:focus{left:.5rem;top:.5rem;z-index:1}\n"
    ".hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}\n"
    "nav{margin:2.5rem 0 0;font-size:var(--s)}nav h2{font-size:var(--s);border:0;padding:0;margin:0 0 .3rem;color:var(--soft)}\n"
    "nav ol{list-style:none;margin:0;padding:0;columns:15rem 3;column-gap:1.5rem}\n"
    "nav li{margin:0;padding:.2rem 0;break-inside:avoid}nav a{text-decoration-color:var(--line)}\n";

static const char pictures[] =
    ".broad{overflow-x:auto}.box{max-width:100%}.box.table{margin:0 0 1.2rem}\n"
    "figure{margin:1rem 0 1.4rem}figcaption{color:var(--soft);font-size:var(--s);line-height:1.45;margin-top:.3rem}\n"
    ".hf-chart{display:block;width:100%;height:auto;max-width:44rem}.hf-chart.narrow{display:none}\n"
    "table{border-collapse:collapse;font-size:var(--s);line-height:1.4;font-variant-numeric:tabular-nums}\n"
    "caption,.title{text-align:left;color:var(--soft);padding:0 0 .35rem}caption:has(.hidden){padding:0}"
    ".title{margin:0;max-width:none;font-size:var(--s);line-height:1.4;break-after:avoid}.w{display:inline-block;max-width:100%}\n"
    "th,td{text-align:left;vertical-align:top;padding:.32rem 1.3rem .32rem 0;font-weight:400;overflow-wrap:break-word}"
    "th:last-child,td:last-child{padding-right:0}\n"
    "thead th{overflow-wrap:normal;font-weight:600;vertical-align:bottom;border-bottom:1px solid var(--ink)}\n"
    "tbody th,tbody td{border-bottom:1px solid var(--rule)}\n"
    ".n{text-align:right;white-space:nowrap}thead .n:not(.k){white-space:normal}.k{white-space:nowrap}.long{overflow-wrap:anywhere}\n"
    ".n+:not(.n){padding-left:.6rem}.few tbody th{min-width:6.5rem}li b{font-weight:600}\n";

/* Where a table does not fit, a row is a block: its first cell a line of its own, the others with the heads of their columns. What reads the page
 * aloud has the heads already, so they are not said twice. `t`: the tables meant. */
#define BLOCKS(t) \
    t "," t " tbody," t " caption{display:block;width:100%}" t " thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}\n" \
    t " caption:has(.hidden){position:absolute;width:1px}" t " tbody{border-top:1px solid var(--ink)}" \
    t " tr{display:flex;flex-wrap:wrap;gap:.1rem 1rem;align-items:baseline;padding:.5rem 0;border-bottom:1px solid var(--rule)}\n" \
    t " th," t " td{display:block;padding:0!important;border:0;min-width:0;max-width:100%;text-align:left}" t " td:empty," t " td.none{display:none}" \
    t " tbody th{flex:0 0 100%;font-weight:600;order:-1}" t " .says{flex:0 0 100%}.list " t " tbody th{flex:none}\n" \
    t " [data-more]::after{content:\"\\2002±\\A0\" attr(data-more)}" t " [data-error]," t " .z{display:none}\n" \
    t " td::before," t " th.n::before{content:attr(data-label)\"\\2002\";content:attr(data-label)\"\\2002\"/\"\";color:var(--soft);font-weight:400}\n"

static const char phone[] = "@media screen and (max-width:40rem){" BLOCKS(".stack") "}\n";
static const char tablet[] = "@media screen and (min-width:40.01rem) and (max-width:75.99rem){" BLOCKS(".ample:not(.snug)") "}\n"
    "@media screen and (min-width:40.01rem) and (max-width:47.99rem){" BLOCKS(".snug") "}\n";
static const char desk[] = "@media screen and (min-width:76rem) and (max-width:87.99rem){" BLOCKS(".vast") "}\n" BLOCKS(".endless");

static const char widths[] =
    "@media screen and (max-width:40rem){.few,.many{width:100%}th,td{padding-right:.8rem}.few tbody th{width:36%}.few th,.few td{overflow-wrap:anywhere}}\n"
    "@media screen and (max-width:34rem){.hf-chart.narrow{display:block;max-width:28rem}.hf-chart.wide{display:none}}\n"
    "@media screen and (min-width:40.01rem) and (max-width:60rem){.many th,.many td{padding-right:.9rem}.many tr>:last-child{padding-right:0}}\n"
    "@media screen and (max-width:47.99rem){.table{overflow-x:auto}}\n@media (min-width:48rem){caption.short{white-space:nowrap}}\n"
    "@media screen and (min-width:40.01rem){header{padding-top:2.5rem}header,main{max-width:52rem;padding-left:2rem;padding-right:2rem}"
    ".load{display:grid;grid-template-columns:15rem minmax(0,1fr);column-gap:2rem}.load>*{grid-column:2}.load .answer{grid-column:1;grid-row:1/span 12}"
    "table{min-width:min(100%,26rem)}.many tbody th:not(.n){min-width:6.5rem}.tells td:last-child{min-width:12rem}.ample{font-size:var(--xs)}.ample th,.ample td{padding-right:.9rem}.ample tr>:last-child{padding-right:0}.ample:not(.snug) td:last-child{min-width:9rem}}\n"
    "@media screen and (min-width:48rem) and (max-width:75.99rem){.snug{font-size:.75rem}.snug :is(th,td){padding-right:.5rem}.snug tr>:last-child{padding-right:0}.snug .n+:not(.n){padding-left:.4rem}.snug tbody th:not(.n){min-width:0!important}}\n"
    "@media screen and (min-width:76rem){header,main{max-width:86rem}header{padding-left:18.5rem}"
    "main{display:grid;grid-template-columns:13rem minmax(0,1fr);column-gap:3.5rem}main>*{grid-column:2}"
    "main>nav{grid-column:1;grid-row:1/span 99;align-self:start;position:sticky;top:1.5rem;margin-top:1rem;"
    "max-height:calc(100vh - 3rem);overflow-y:auto}nav ol{columns:auto}nav a{text-decoration:none}nav a:hover,nav a:focus-visible{text-decoration:underline}"
    "p,li,figcaption{max-width:44rem}.cards{grid-template-columns:repeat(auto-fit,minmax(16rem,1fr))}.load:not(:only-child){display:block}"
    ".load:only-child{grid-template-columns:18rem minmax(0,1fr)}}\n"
    "@media screen and (min-width:90rem){"
    "figure{display:grid;grid-template-columns:44rem minmax(0,1fr);column-gap:2.5rem}"
    "figcaption{margin:0;padding-top:.75rem}}\n";

/* Where a table stands in columns its rows are one line each, so that those of all columns stand beside each other. Borders that are not
 * collapsed are drawn again with every head. */
static const char lists[] =
    "@media print,screen and (min-width:90rem){.two{columns:2}.three{columns:3}.four{columns:4}.several{column-gap:2.3rem}"
    ".several table{border-collapse:separate;border-spacing:0;min-width:0;width:100%}.several :is(th,td){padding-right:.8rem}"
    ".several tr>:last-child{padding-right:0}.several :is(thead,tr){break-inside:avoid}.several tbody th{min-width:0!important}}\n";

static const char paper[] =
    "@page{margin:16mm 15mm 18mm;@bottom-left{font:8pt system-ui,\"DejaVu Sans\",sans-serif;color:#333}"
    "@bottom-right{content:counter(page)\" of \"counter(pages);font:8pt system-ui,\"DejaVu Sans\",sans-serif;color:#333}}\n"
    "@page:first{@bottom-left{content:none}}\n"
    "@media print{:root{color-scheme:light;--ink:#000;--soft:#333;--rule:#bbb}\n"
    "html{font-size:9.5pt}body{line-height:1.4}nav,.skip{display:none}header,main{max-width:none;padding:0;display:block}main{padding:0}section{margin-top:5mm}section.first{margin-top:3mm}"
    "h2{margin-bottom:2.5mm;padding-top:2.5mm}p{margin-bottom:1.6mm}ul{margin-bottom:2mm}li{margin-bottom:.8mm}.box.table{margin-bottom:2.5mm}\n"
    "h1,h2,h3,caption,p:has(+ul),p:has(+.sum),p:has(+.brief),.finding:has(+figure){break-after:avoid}"
    ".sum,.brief:has(+p),ul>li:first-child:not(:last-child){break-after:avoid}.brief:has(+p+.sum){break-after:auto}figure,.card,.sum,p,li,tr,caption,thead,.brief{break-inside:avoid}h3{margin-top:4mm}\n"
    ".load{display:grid;grid-template-columns:48mm minmax(0,1fr);column-gap:6mm}.load>*{grid-column:2}.load .answer{grid-column:1;grid-row:1/span 12}"
    ".cards{gap:5mm}.card{border-top-width:1.5pt;padding-top:2mm}.answer strong{font-size:2.074rem}\n"
    ".broad{overflow:visible}figure{display:grid;grid-template-columns:112mm minmax(0,1fr);column-gap:5mm;margin:2mm 0 3mm}"
    "figcaption{margin:0;padding-top:2mm}.hf-chart{width:auto;max-width:112mm;max-height:106mm}\n"
    "thead{display:table-header-group}thead{break-after:avoid}tbody tr:last-child,tbody tr:nth-last-child(2),tbody tr:first-child{break-before:avoid}tbody tr:first-child,tbody tr:nth-child(2){break-after:avoid}\n"
    "table{font-size:var(--xs)}th,td{padding-top:.17rem;padding-bottom:.17rem}.many tbody th:not(.n){min-width:4rem}.tells td:last-child{min-width:5rem}"
    ".ample,.tells,.few{width:100%}.few tbody th{width:42mm}.few:has(td.n){width:auto}.ample{font-size:.8rem}.ample th,.ample td{padding-right:.7rem}.ample tr>:last-child{padding-right:0}"
    ".ample td,.ample tbody th{overflow-wrap:anywhere}.list table{width:100%}.tall .hf-chart{max-height:145mm}}\n";
/* clang-format on */

const char *const hf_html_style[] = {colors, words,  pictures, phone, tablet,
                                     desk,   widths, paper,    lists, NULL};
