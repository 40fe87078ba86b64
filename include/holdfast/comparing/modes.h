/* Parts that fail in more than one way.
 *
 * A sewn ring can tear its stitches or its cloth. Each way of failing (mode) has its own strength, and the part's is the
 * least of them. A part whose stitches tore at 800 N says that its cloth was stronger than what it last held: for the cloth it is
 * an open pull. So each mode is fitted with all parts, the survival of the part is the product over the modes, and one sees
 * what would be gained if a mode were designed out. A rig failure is never a mode. */
#ifndef HOLDFAST_COMPARING_MODES_H
#define HOLDFAST_COMPARING_MODES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/arena.h"
#include "holdfast/base/status.h"
#include "holdfast/strength/bound.h"
#include "holdfast/strength/family.h"
#include "holdfast/strength/observation.h"

enum { HF_MODE_NONE = -1, HF_MODE_LIMIT = 32 };

/* The pulls with the mode each one failed in: mode[i] in 0 … mode_count − 1 for a failure, HF_MODE_NONE for an open-above pull (its value is not
 * read there). A failure whose mode nobody noted needs a number of its own ("not stated"). */
typedef struct hf_mode_data {
    hf_sample sample;
    const int *mode;
    size_t mode_count; /* 1 … HF_MODE_LIMIT */
} hf_mode_data;

/* The sample as one mode sees it: failures in another mode become open above at what was last held. Pulls that then say nothing (held 0)
 * are left out. out has room for sample.count. Returns how many were written. */
size_t hf_mode_sample(const hf_mode_data *data, size_t mode, hf_observation *out);

typedef struct hf_mode_result {
    size_t failures;
    double share;   /* of all failures */
    bool fitted;    /* two or more failures and a bound */
    hf_bound bound; /* of this mode alone; reason when not fitted */
    double
        without; /* the part's bound if this mode were designed out; NaN when nothing else is fitted or this one is not */
    double without_error;
} hf_mode_result;

typedef struct hf_modes {
    const hf_family *family;
    double content, confidence;
    const hf_mode_result *modes; /* data->mode_count, in the arena */
    size_t count;
    size_t
        unfitted_failures; /* in modes too rare to fit: with these the combined bound looks better than it is; set the bound of the
                                 undivided sample beside it */
    double bound;          /* the part's, all fitted modes together, load; NaN when none is fitted */
    double standard_error; /* of its simulation */
    size_t draws;
} hf_modes;

/* Content and confidence as for hf_bound_family. draws 0 means 40 000. HF_RANGE, HF_MEMORY; HF_NO_RESULT when no mode could be fitted (shares
 * are filled in all the same). */
hf_status hf_modes_of(hf_arena *arena, const hf_family *family, const hf_mode_data *data, double content,
                      double confidence, uint64_t seed, size_t draws, hf_modes *out);

/* A content of so many modes, worked out once for many quantiles: where a mode alone with it, or with its root by their number, ends, lie
 * above and below the answer. */
typedef struct hf_mode_content {
    double log_content;
    double alone, weak; /* standard quantiles */
} hf_mode_content;

hf_mode_content hf_mode_content_of(const hf_family *family, size_t count, double content);

/* Load that the share `content` of parts carries when mode j has (m[j], s[j]): Π P(Y_j > x) = content. Working scale. HF_NUMERIC. */
hf_status hf_modes_quantile(const hf_family *family, const double *m, const double *s, size_t count,
                            const hf_mode_content *content, double *out);

#endif
