/* What if the labels meant nothing?
 *
 * If A and B were the same, any sharing-out of the pulls between the two names would have been as likely as the
 * one seen. The relabeling (permutation) test goes through all of them and asks how many show a difference at least as
 * large. It leans on no bell shape, but it wants both groups pulled on one common ladder, and with few parts it cannot speak
 * loudly: three against three never gets below p = 0.10. The statistic is the difference of the mean mids (ln load)
 * over √(Σ(s² + h²/8)/n); 0/0 counts as 0, d/0 as infinite and tied with every other infinity; what lies within 1e-9 relative of
 * the one seen counts as at least as extreme. */
#ifndef HOLDFAST_COMPARING_RELABEL_H
#define HOLDFAST_COMPARING_RELABEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/observation.h"

enum { HF_RELABEL_FULL_LIMIT = 2000000, HF_RELABEL_RANDOM = 1000000 };

typedef struct hf_relabel_options {
    size_t full_limit; /* all relabelings up to this many; 0 means HF_RELABEL_FULL_LIMIT */
    size_t random;     /* random ones beyond; 0 means HF_RELABEL_RANDOM */
    uint64_t seed;     /* of the random ones; any number, 0 included */
    const double *
        rungs; /* rungs both ladders are known to share, ascending loads > 0; NULL: found from the pulls themselves */
    size_t rung_count;
} hf_relabel_options;

typedef struct hf_relabel {
    bool available;
    const char *reason;    /* when not: "open_observations", "one_part", "range" */
    double p;              /* two-sided; random relabelings: (extreme + 1)/(random + 1) */
    double standard_error; /* of p; 0 for full enumeration */
    double p_floor; /* the least p these pulls could have given however shared out; random: 1/(random + 1) */
    double statistic;   /* the one seen, signed (A − B); ±INFINITY possible */
    double relabelings; /* gone through, the one seen included */
    bool full;
    bool coarsened; /* the ladders differed, or readings met steps: all pulls were put on the common rungs */
    size_t common_rungs; /* when coarsened */
} hf_relabel;

/* The test on exact and closed pulls, at least two a group. Always fills *out; HF_OK, HF_NO_RESULT with out->reason, HF_MEMORY.
 * Scratch memory comes from the arena. Runs in parallel blocks: the same bits on any number of threads.
 *
 * Ladders agree when no end of one pull's step lies inside another's step. Where they do not, every such rung is taken away and each
 * step is widened to the rungs left. Steps finer than a tenth of the pooled scatter count as readings and are left alone. */
hf_status hf_relabel_test(hf_arena *arena, hf_sample a, hf_sample b, const hf_relabel_options *options,
                          hf_relabel *out);

/* Number of ways to share out n_a + n_b parts: the binomial coefficient, as double (INFINITY when too large). */
double hf_relabel_ways(size_t n_a, size_t n_b);

#endif
