/* The steps of reading a campaign. */
#ifndef HF_CAMPAIGN_PARTS_H
#define HF_CAMPAIGN_PARTS_H

#include "campaign/reader.h"

/* Objects of the file, one function each. */
void hf_read_rig(hf_reader *reader, const hf_json *node, hf_rig *rig);
void hf_read_goal(hf_reader *reader, const hf_json *node, hf_goal *goal);
void hf_read_looks(hf_reader *reader, const hf_json *node, hf_stated_looks *looks);
void hf_read_scatter(hf_reader *reader, const hf_json *node, hf_scatter *scatter);
void hf_read_between(hf_reader *reader, const hf_json *node, hf_between *between);
void hf_read_guess(hf_reader *reader, const hf_json *node, hf_stated_guess *guess);
void hf_read_weights(hf_reader *reader, const hf_json *node, hf_campaign *campaign);
void hf_read_designs(hf_reader *reader, const hf_json *node, hf_campaign *campaign);
void hf_read_head_to_head(hf_reader *reader, const hf_json *node, hf_campaign *campaign);
void hf_read_plan(hf_reader *reader, const hf_json *node, hf_campaign *campaign);

/* The keys of these objects, for `set`. */
typedef struct hf_key_table {
    const hf_key *keys;
    size_t count;
} hf_key_table;
hf_key_table hf_campaign_keys(void);
hf_key_table hf_rig_keys(void);
hf_key_table hf_goal_keys(void);
hf_key_table hf_guess_keys(void);
hf_key_table hf_design_keys(void);
hf_key_table hf_scatter_keys(void);
hf_key_table hf_between_keys(void);

/* The outcome table and the force rule: fills outcome, pull and set of a specimen. stated: the outcome written, 0 for none. */
void hf_specimen_observe(hf_reader *reader, const hf_rig *rig, hf_specimen *specimen, int stated);

/* Designs by id, for all that names one. */
void hf_index_designs(hf_reader *reader, const hf_campaign *campaign);
bool hf_is_design(const hf_reader *reader, const char *id);

/* Checks over the whole file. */
void hf_check_ends(hf_reader *reader, hf_campaign *campaign);
void hf_check_ids(hf_reader *reader, const hf_campaign *campaign);
void hf_check_rig(hf_reader *reader, const hf_campaign *campaign, const hf_json *rig_node);
void hf_warn(hf_reader *reader, const hf_campaign *campaign);

/* Defaults of the schema. */
hf_goal hf_goal_default(void);

#endif
