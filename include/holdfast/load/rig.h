/* From what is hung on the rig to the force on the part.
 *
 * The tare (hanger, hook, lever) always pulls; added weights pull times the lever advantage; and a pull
 * that is off-line by an angle only counts with its cosine:
 *   added weights:        (added · advantage + tare) · cos(angle)
 *   total at the part:    total · cos(angle)
 *   scale in the line:    peak · cos(angle) */
#ifndef HOLDFAST_LOAD_RIG_H
#define HOLDFAST_LOAD_RIG_H

#include <stddef.h>
#include "holdfast/base/error.h"

typedef enum hf_rig_records {
    HF_RIG_RECORDS_NONE,
    HF_RIG_RECORDS_ADDED,
    HF_RIG_RECORDS_TOTAL
} hf_rig_records;

typedef struct hf_rig_force {
    hf_rig_records records;
    double tare;      /* N, ≥ 0 */
    double advantage; /* > 0, 1 without a lever */
    double angle_deg; /* 0 ≤ angle < 90 */
} hf_rig_force;

/* Force on the part (N) for a recorded load (N) under `rig.records`. */
double hf_rig_force_of_record(const hf_rig_force *rig, double record);

/* The way back: force in the line (N), and load to be added to the rig (N), for this force on the part (N). */
double hf_rig_line_of_force(const hf_rig_force *rig, double force);
double hf_rig_added_of_force(const hf_rig_force *rig, double force);

/* Force on the part (N) for a reading of a scale in line (N). */
double hf_rig_force_of_peak(const hf_rig_force *rig, double peak);

/* One line of the uncertainty budget (GUM, JCGM 100:2008). Exactly one of relative and load is > 0. */
typedef enum hf_uncertainty_kind {
    HF_UNCERTAINTY_STANDARD,  /* a standard uncertainty: as it is */
    HF_UNCERTAINTY_TOLERANCE, /* limits ±a, rectangular: a/√3 */
    HF_UNCERTAINTY_EXPANDED   /* expanded with coverage factor 2: U/2 */
} hf_uncertainty_kind;

typedef struct hf_uncertainty {
    const char *source;
    double relative; /* share of the load, or 0 */
    double load;     /* N on the part, or 0 */
    hf_uncertainty_kind kind;
} hf_uncertainty;

/* Relative standard uncertainty that one line makes at a load (N, > 0). */
double hf_uncertainty_at(const hf_uncertainty *line, double load);

/* Root sum of squares of all lines at this load. 0 for no lines. */
double hf_uncertainty_combined(const hf_uncertainty *lines, size_t count, double load);

#endif
