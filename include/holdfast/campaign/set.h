/* Setting keys of the campaign file, and adding designs to it, without an editor.
 *
 * Keys are named as they stand in the file, "goal.design_factor" or "rig.tare", and for one design without its name: "guess.mean". What may be
 * set is read from the same tables as the file itself, so that a new key can be set as soon as it can be read. */
#ifndef HOLDFAST_CAMPAIGN_SET_H
#define HOLDFAST_CAMPAIGN_SET_H

#include "holdfast/campaign/campaign.h"

enum { HF_SETTABLE_NAME_SIZE = 120 };

typedef struct hf_settable {
    char name[HF_SETTABLE_NAME_SIZE]; /* "goal.design_factor" */
    bool of_file, of_design;
    const char *takes; /* what a value looks like: "a load", "a number" … */
    bool load;         /* it is a load, so that a unit may follow as a word */
} hf_settable;

/* Settable key `at`; false past the last. Beside them "info.NAME" and "rig.info.NAME" take any text. */
bool hf_settable_at(size_t at, hf_settable *out);

/* The one that is called so ("goal.design_factor"), for a design or the file; false when there is none. */
bool hf_settable_find(const char *name, bool of_design, hf_settable *out);

typedef struct hf_setting {
    const char *name;  /* "goal.design_factor" */
    const char *value; /* as a person types it; NULL: the key is taken away */
} hf_setting;

typedef struct hf_settings {
    const char *design; /* id; NULL: of the file itself */
    const hf_setting *items;
    size_t count;
} hf_settings;

/* The campaign's text with the settings, one after the other, every other byte as it was,
 * appended to *out. Loads as in `record`; shares also in per cent; weights as "6x10kg 2x5kg"; rig.uncertainty as "weights 3% tolerance; tare
 * 0.1kg standard"; use_factors as "wet 1.2; ageing 1.3"; looks as "5,10"; what begins with [ or { is taken as JSON. HF_USAGE with words for an
 * unknown key (the nearest is named) or a value that cannot be read; HF_BAD_DATA with *findings when the file would not be valid. */
hf_status hf_campaign_set(hf_arena *arena, const hf_campaign *campaign, const hf_settings *settings,
                          hf_text *out, hf_findings *findings, hf_error *error);

/* The value as it stands in the file, a text without its quotes; NULL: not stated. */
const char *hf_campaign_value(hf_arena *arena, const hf_campaign *campaign, const char *design,
                              const char *name);

typedef struct hf_new_design {
    const char *id, *name, *mean, *cv; /* NULL: not stated; mean a load as typed, cv a number */
    size_t parts;                      /* planned ones to write: <id>-01 … */
} hf_new_design;

/* The campaign's text with one more design, or, where it is there already, with more planned parts of it; appended to *out. HF_BAD_DATA with
 * words when neither can be. */
hf_status hf_campaign_add_design(hf_arena *arena, const hf_campaign *campaign, const hf_new_design *design,
                                 hf_text *out, hf_error *error);

/* The same read again as the campaign it makes, in the arena. HF_BAD_DATA with words, or with what the new design gets wrong in *findings. */
hf_status hf_campaign_with_design(hf_arena *arena, const hf_campaign *campaign, const hf_new_design *design,
                                  const hf_campaign **out, hf_findings *findings, hf_error *error);

#endif
