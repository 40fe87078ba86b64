/* Numbers to text and back, always with a point, whatever the locale says.
 *
 * Files get the shortest text that reads back to the same bits; people get a few significant figures;
 * ratings are rounded down, never up. */
#ifndef HOLDFAST_BASE_NUMBER_H
#define HOLDFAST_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

enum { HF_NUMBER_SIZE = 40 };

/* Reads a decimal number that fills text[0..length) completely: optional sign, digits with at most one
 * point, optional exponent. No spaces, no hexadecimal, no "inf", no "nan". Returns false when it does not, or
 * when the value overflows to infinity; *out is then untouched. */
bool hf_number_read(const char *text, size_t length, double *out);

/* The shortest decimal text that reads back to exactly `value` (finite). Written to out[HF_NUMBER_SIZE]
 * and returned. "-0" is written as 0. */
const char *hf_number_shortest(double value, char out[HF_NUMBER_SIZE]);

/* `value` with `figures` significant figures (1 to 17), plain digits between 1e-4 and 1e7, no trailing
 * zeros dropped within the figures ("812.40"), else exponent form. Non-finite: "-". */
const char *hf_number_figures(double value, int figures, char out[HF_NUMBER_SIZE]);

/* A share as per cent, without the sign: whole where it is whole ("90"), else with that many figures ("99.95"), and with more
 * where it would else read 100 though it is below 1: what is not certain is never printed as certain. Non-finite: "-". */
const char *hf_number_percent(double share, int figures, char out[HF_NUMBER_SIZE]);

/* The nearest number with `figures` significant decimal figures (1 to 17). Non-finite values and 0 stay. */
double hf_number_round(double value, int figures);

/* The largest number with `figures` significant decimal figures that is not above `value`. A value
 * within 4 units in the last place of such a number counts as that number (so 0.3·3 style noise does not cost a unit).
 * 0 gives 0; negative values go away from zero. */
double hf_number_round_down(double value, int figures);

#endif
