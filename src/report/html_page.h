/* Head, style and frame of a page. */
#ifndef HF_REPORT_HTML_PAGE_H
#define HF_REPORT_HTML_PAGE_H

/* The style sheet of every page in pieces, as it stands between <style> and </style>; NULL ends it. Static. */
extern const char *const hf_html_style[];

#endif
