/* Loads and their units.
 *
 * What hangs on a hook is a mass; what pulls at the part is a force. A load written in kg, g, lb, oz or
 * st is a mass and becomes a force through the stated local gravity; N, kN, daN, MN, lbf, kgf are forces
 * already. Inside Holdfast every load is a force in newtons. */
#ifndef HOLDFAST_LOAD_UNIT_H
#define HOLDFAST_LOAD_UNIT_H

#include <stdbool.h>
#include <stddef.h>
#include "holdfast/base/error.h"

#define HF_GRAVITY_STANDARD 9.80665

/* One row of the unit table. */
typedef struct hf_unit {
    const char *name;  /* as written in the file: "kg" */
    const char *label; /* in words: "kilogram (mass on the hook)" */
    double factor;     /* newtons per unit for forces; kilograms per unit for masses */
    bool is_mass;
} hf_unit;

/* The table, in the order it is listed to people; *count rows. Static. */
const hf_unit *hf_unit_table(size_t *count);

/* The unit with exactly this name, or NULL. */
const hf_unit *hf_unit_find(const char *name, size_t length);

/* Newtons per one of this unit, at this gravity (m/s², > 0). */
double hf_unit_newtons(const hf_unit *unit, double gravity);

/* A load as written: value and unit. */
typedef struct hf_load {
    double value;
    const hf_unit *unit;
} hf_load;

/* Reads "18 kg", "40lbf", "1.2 kN" or a bare "18" (then `bare` is its unit; NULL: a unit is required).
 * Any amount of blanks and tabs between number and unit; the number has at most 63 characters. HF_BAD_DATA with what was expected otherwise (unknown unit: the nearest
 * is named); negative loads are refused. */
hf_status hf_load_read(const char *text, size_t length, const hf_unit *bare, hf_load *out, hf_error *error);

/* The load as a force in newtons. */
double hf_load_newtons(hf_load load, double gravity);

#endif
