/* What the files that make a plan share. */
#ifndef HF_STUDY_PLAN_PARTS_H
#define HF_STUDY_PLAN_PARTS_H

#include "holdfast/study/plan.h"

/* Calibration of a requirement (NaN: none). */
hf_plan_calibration hf_plan_calibrate(const hf_plan_setup *setup);
/* Fills u and multiplier at a bound. */
void hf_plan_calibrate_at(const hf_plan_setup *setup, double bound, hf_plan_calibration *calibration);

/* Moves the guess to the finished pulls of the design where there are one to three and no mean was stated; fills a missing scatter
 * from the stated one, else from an assumption where a pull is there. HF_BAD_DATA when no mean can be had from open pulls. */
hf_status hf_plan_take_pilot(hf_arena *arena, const hf_campaign *campaign, hf_plan *plan, hf_error *error);

/* Everything that can be wrong with the question, one clear line for the first. */
hf_status hf_plan_check(const hf_plan_setup *setup, hf_error *error);

/* HF_BAD_DATA where no mean is stated and the design has more finished pulls than a guess is moved to: they say more than a guess. */
hf_status hf_plan_point_to_next(const hf_campaign *campaign, const hf_plan_setup *setup, hf_error *error);

/* Whether any part of the design was pulled, whatever came of it. */
bool hf_plan_has_pulls(const hf_design *design);

/* Whether the design has finished pulls that a guess can be moved to, and not so many that they say more than a guess. */
bool hf_plan_has_pilot(const hf_design *design);

/* Force on the part with nothing added. */
double hf_plan_hanger(const hf_plan_setup *setup);

/* What a number of parts brings, at this confidence and up to `most` parts (0: as asked), on the plan's ladder where it has one. */
hf_status hf_plan_table(hf_arena *arena, const hf_plan *plan, double cv, double confidence, size_t most,
                        hf_plan_scenario *out, hf_error *error);

/* Fills plan->looks where looks are stated. */
hf_status hf_plan_make_looks(hf_arena *arena, hf_plan *plan, hf_error *error);

/* The usual numbers, rising, up to `most`, and among them one's own where there is one (0: none). Room for count + 1; returns how many. */
size_t hf_plan_numbers(const size_t *usual, size_t count, size_t own, size_t most, size_t *out);

/* Fills plan->batches where batches are asked for; the day must be made. HF_USAGE for more batches than parts. */
hf_status hf_plan_make_batches(hf_arena *arena, hf_plan *plan, hf_error *error);

/* The law that is guessed. */
hf_status hf_plan_guess(const hf_plan_setup *setup, hf_guess *out, hf_error *error);

/* The ladder for so many parts into plan->ladder. */
hf_status hf_plan_make_ladder(hf_arena *arena, hf_plan *plan, size_t parts, hf_error *error);

/* The ladder to a proof load into plan->ladder. HF_NO_RESULT with its problem set and no words. */
hf_status hf_plan_make_proof_ladder(hf_arena *arena, hf_plan *plan, double load, hf_error *error);

/* The question as a plan with nothing in it. */
void hf_plan_begin(const hf_campaign *campaign, const hf_plan_setup *setup, hf_plan *plan);

/* A question that has been looked through: guess and calibration, nothing planned yet. */
hf_status hf_plan_start(hf_arena *arena, const hf_campaign *campaign, const hf_plan_setup *setup,
                        hf_plan **out, hf_error *error);

/* Ladder and number of parts of every design of the day, plan->day filled. */
hf_status hf_plan_make_day(hf_arena *arena, hf_plan *plan, hf_error *error);

/* The most that can hang: plan->reach. */
void hf_plan_fill_reach(hf_plan *plan);

/* So many more of the heaviest weights that nearly no part of the guess outlasts them: into plan->setup and *out, whose kind stays NULL where none are
 * needed or the rig may not carry them. plan->reach is filled. */
hf_status hf_plan_add_weights(hf_arena *arena, const hf_guess *guess, hf_plan *plan, hf_plan_borrow *out,
                              hf_error *error);

/* Where the weights end the ladder too soon: plan->borrow. */
hf_status hf_plan_fill_borrow(hf_arena *arena, hf_plan *plan, hf_error *error);

/* What a test sees of an effect through steps of so many standard deviations. */
double hf_plan_seen(double effect, double step_sd);

#endif
