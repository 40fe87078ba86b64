/* Parts pulled against each other.
 *
 * Tie a part of A to a part of B and pull until one breaks: no scale, no weights, and still an answer. If
 * neither were stronger each would win half the time; the exact sign test asks how strange the tally would then be. Six of six is
 * enough for 5 %, five of five is not. Pulls in which both broke say nothing about which is stronger; they are left out of
 * the test and stated. */
#ifndef HOLDFAST_COMPARING_SIGN_TEST_H
#define HOLDFAST_COMPARING_SIGN_TEST_H

#include <stddef.h>
#include "holdfast/base/status.h"

typedef struct hf_sign_test {
    size_t first_won, second_won, ties; /* won: the other one broke */
    double p;                           /* two-sided, exact; 1 without a decided pull */
    double share;                       /* of decided pulls that the first won; NaN without any */
    double low, high;                   /* exact (Clopper–Pearson) interval of that share at 1 − level */
    size_t more; /* further pulls to p ≤ level if the leader wins every one; 0 when already there */
} hf_sign_test;

/* 0 < level < 1; HF_RANGE otherwise. */
hf_status hf_sign_test_of(size_t first_won, size_t second_won, size_t ties, double level, hf_sign_test *out);

/* Decided pulls needed when one side wins them all: the least n with 2·(1/2)^n ≤ level. */
size_t hf_sign_test_least(double level);

/* Decided pulls so that a first that wins the share `chance` of them is found with the wanted power, from there on for every larger n;
 * 0.5 < chance ≤ 1. HF_RANGE outside, HF_NO_RESULT beyond 100 000. */
hf_status hf_sign_test_parts(double chance, double power, double level, size_t *n);

#endif
