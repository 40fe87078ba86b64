/* Several designs at once.
 *
 * Six designs make fifteen pairs, and of fifteen comparisons at 5 % one will shout without cause every other time. Holm's
 * rule raises the p values so that the chance of any false verdict stays at the level; Games–Howell intervals do the same
 * for the ratios. Designs that cannot be told apart are grouped, and the league is by lower bound: what a design can
 * be trusted with, never its best pull. */
#ifndef HOLDFAST_COMPARING_RANKING_H
#define HOLDFAST_COMPARING_RANKING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "holdfast/base/status.h"
#include "holdfast/comparing/group.h"

/* Holm's step-down adjustment of p[0..count) into adjusted[0..count) (may be p itself). NaN entries stay NaN and are not counted
 * as comparisons. */
void hf_holm_adjust(const double *p, size_t count, double *adjusted);

/* One pair among `groups` designs, on the ln scale. */
typedef struct hf_games_howell {
    double difference, standard_error, t, degrees_of_freedom;
    double p;         /* studentised range of |t|·√2 */
    double low, high; /* of the difference, simultaneous at 1 − level */
} hf_games_howell;

/* Both groups with two or more parts and not both without variance, groups ≥ 2, 0 < level < 1; HF_RANGE otherwise. */
hf_status hf_games_howell_pair(const hf_group *a, const hf_group *b, size_t groups, double level,
                               hf_games_howell *out);

enum { HF_RANKING_LIMIT = 64 };

/* The largest sets of designs in which no pair differs. differ[i·count + j] tells whether i and j were told apart (read for i < j);
 * bit i of a group stands for design i. Groups come in the order of their first member, then of the next. HF_RANGE above
 * HF_RANKING_LIMIT designs, HF_NO_RESULT when there are more than `capacity` groups. Every design is in at least one. */
hf_status hf_ranking_groups(const bool *differ, size_t count, uint64_t *groups, size_t capacity,
                            size_t *group_count);

/* order[0..count) becomes the indices by falling bound; NaN (no bound) last, equals in their old order. */
void hf_ranking_league(const double *bounds, size_t count, size_t *order);

#endif
