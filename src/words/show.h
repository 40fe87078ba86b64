/* How numbers are shown: one policy for every sentence, table and picture.
 *
 * What a number is decides how it is shown, never the place where it stands. Promises are rounded down, in the unit shown; what was
 * seen or stated stands as it was; everything else is rounded to the nearest. JSON carries the full number. Loads are newtons, shares fractions of 1. */
#ifndef HF_WORDS_SHOW_H
#define HF_WORDS_SHOW_H

#include "document/document.h"
#include "holdfast/words/report.h"

typedef enum hf_show_as {
    /* Loads. */
    HF_AS_BOUND,  /* a promised load, four figures, rounded down */
    HF_AS_RATING, /* a load to work with, three figures, rounded down */
    HF_AS_SEEN, /* a load that a pull showed: as recorded where that is a short number in the unit shown, else four figures */
    HF_AS_STATED,     /* a load that somebody stated: six figures at most and no idle zeros */
    HF_AS_MEAN,       /* a load worked out, four figures */
    HF_AS_ROUGH,      /* a load planned or expected, three figures */
    HF_AS_LOAD_ERROR, /* the error of a load, two figures */
    /* Shares of 1, in per cent. */
    HF_AS_SHARE,            /* 12 % as it was stated, 39.0 % as it was found */
    HF_AS_SHARE_ROUGH,      /* the same with two figures */
    HF_AS_SHARE_STATED,     /* content or confidence that somebody asked for: as it was given */
    HF_AS_SHARE_TO_REDO,    /* a share worked out with which one goes on computing, five figures */
    HF_AS_CONFIDENCE,       /* a confidence worked out, four figures */
    HF_AS_SHARE_KEPT,       /* a promised share, three figures, rounded down */
    HF_AS_SHARE_PROVEN,     /* a share that tests or a study have shown, four figures, rounded down */
    HF_AS_SHARE_KEPT_ROUGH, /* the same with two figures */
    HF_AS_CHANCE,           /* a chance worked out, three figures; where they would read 100: "> 99.9 %" */
    HF_AS_CHANCE_ROUGH,     /* the same with two figures */
    /* Numbers. */
    HF_AS_NUMBER,       /* three figures */
    HF_AS_NUMBER_ROUGH, /* two figures */
    HF_AS_RATIO,        /* two figures, no idle zeros */
    HF_AS_FACTOR,       /* a factor or scatter in a table, four figures */
    HF_AS_TO_REDO,      /* the same where one goes on computing with it, five figures */
    HF_AS_FACTOR_WHOLE, /* a factor that is all the answer, six figures */
    HF_AS_SIGNIFICANCE, /* of a simulated test, two figures; where no sample lay as far out: below its resolution, not nothing */
    HF_AS_GIVEN, /* as it was given */
    HF_AS_COUNT
} hf_show_as;

bool hf_is_load(hf_show_as as);
double hf_in_unit(const hf_report_style *style, double newtons);

enum { HF_SHOWN_SIZE = 80 };

/* The number alone, and with its unit ("588.4 N", "39.0 %"); "-" where it is not finite. Written to `out` and returned. */
const char *hf_show_bare(const hf_report_style *style, hf_show_as as, double value, char out[HF_SHOWN_SIZE]);
const char *hf_show(const hf_report_style *style, hf_show_as as, double value, char out[HF_SHOWN_SIZE]);

/* The same in the arena of a document. */
const char *hf_show_text(hf_document *document, hf_show_as as, double value);
const char *hf_bare_text(hf_document *document, hf_show_as as, double value);

#endif
