/* The numbers at which the study decides otherwise.
 *
 * Each stands here once, with where it comes from; no number that decides about a caution or an answer hides in a source. */
#ifndef HF_STUDY_LIMITS_H
#define HF_STUDY_LIMITS_H

/* --- Cautions about one design ---------------------------------------------------------------------- */

/* Standard deviation over mean above which a promise leans heavily on its law. Own choice. */
#define HF_HIGH_SCATTER 0.25
/* Step over standard deviation from which the bound pays much for the step: docs/methods.md, price of the step. */
#define HF_COARSE_STEP 1.0
/* Bounds of the laws this share of the highest apart are named. Own choice. */
#define HF_FAMILIES_APART 0.10
/* Difference of ln likelihood that leaves the worse law "essentially no support": 10 of AIC (Burnham & Anderson 2002, from memory). */
#define HF_NO_SUPPORT 5
/* A chance below this is none: the usual level of tests. */
#define HF_UNLIKELY 0.05
/* Failures below which no test can tell laws apart: that of docs/methods.md needs ten to reject a wrong law half of the time. */
#define HF_FEW_FAILURES 10
/* Share of pulls in which the rig let go first, above which the rig is to be mended. Own choice. */
#define HF_RIG_SHARE 0.20
/* Share of failures in the dwell, of those whose phase is stated, above which strength depends on time. Own choice. */
#define HF_DWELL_SHARE 0.20
/* Batches below which nothing shows what changing batch does. */
#define HF_FEW_BATCHES 3
/* A bound by ways of failing below this share of the undivided one is named. Own choice. */
#define HF_MODES_APART 0.75
/* One record of at least so many is named where the bound gains this factor without it. Of normal and Weibull parts with a scatter of up to 12 %
 * at most 3 samples in 100 have one (own simulation); of three or four parts it would be every fifth. */
#define HF_ONE_RECORD_GAIN 1.5
#define HF_ONE_RECORD_PARTS 5
/* A kind of part that is this share of all, and the chance of missing it that is worth a word. */
#define HF_WEAK_KIND_SHARE 0.15
#define HF_WEAK_KIND_CHANCE 0.05
/* Content from which a bound leans on the tail of its law, where laws are alike in the middle. */
#define HF_TAIL_CONTENT 0.99

/* Steps in standard deviations up to which looks are simulated (docs/coverage.md). */
#define HF_LOOKS_WIDEST_STEP 2

/* --- Cautions about two designs ---------------------------------------------------------------------- */

/* Scatters this factor apart. */
#define HF_SCATTER_APART 2
/* Numbers of pulls this factor apart. */
#define HF_COUNTS_APART 2
/* Step over standard deviation from which the coverage of a comparison falls below its promise (docs/coverage.md), seen from so many failures on;
 * with fewer their own scatter hides the error. */
#define HF_WIDE_STEP 2
#define HF_WIDE_STEP_PARTS 5

/* Level of a comparison, all pairs together, and the chance with which a plan, a smallest visible difference and a number of parts that would settle it
 * count. Common practice, no source. */
#define HF_USUAL_LEVEL 0.05
#define HF_USUAL_POWER 0.80
/* How often a design must outlast another for the parts that a match needs to be told. Own choice. */
#define HF_MATCH_SHARE 0.9
/* Tail on either side of the interval told beside a scatter. Common practice, no source. */
#define HF_SCATTER_TAIL 0.05

/* --- A plan ------------------------------------------------------------------------------------------- */

/* Scatter that a plan takes where nobody guesses one. Own choice, said where it is taken. */
#define HF_ASSUMED_CV 0.15
/* A bound whose lower tenth is below this share of the expected one is luck. Own choice. */
#define HF_LUCK_SHARE 0.5
/* Share of parts that weights and rig must be able to break, and of pulls that end open from which it is worth a word. Own choice. */
#define HF_BREAK_SHARE 0.999
#define HF_OFTEN_OPEN 0.01
/* Parts up to which a ladder is made finer. docs/planning.md, price of the step. */
#define HF_FEW_PARTS 4
/* Parts among which the number for another design of the day is looked for first; it only saves time. */
#define HF_SOME_PARTS 8

/* --- The answer -------------------------------------------------------------------------------------- */

/* Parts from which a bound is useful: pulling more no longer comes first. */
#define HF_USEFUL_PARTS 5
/* Figures of a working load, as a force and as a mass. */
#define HF_RATING_FIGURES 3
#define HF_MASS_FIGURES 3
/* Samples of a simulated test of a law. */
#define HF_TEST_REPLICATES 2000

#endif
