/* The strength laws, one row each, in the order of every table.
 *
 * ROW(<name>) stands for the record hf_family_<name> in src/strength/<name>.c; the word people write is <name>, too. Number of laws, tables,
 * words of the campaign file, --family, charts and notebook follow from here. The build reads the rows for the list of files, so each
 * stands on a line of its own. */
#ifndef HOLDFAST_STRENGTH_FAMILY_LIST_H
#define HOLDFAST_STRENGTH_FAMILY_LIST_H

/* clang-format off */
#define HF_FAMILY_LIST(ROW) \
    ROW(normal) \
    ROW(lognormal) \
    ROW(weibull)
/* clang-format on */

typedef struct hf_family hf_family; /* family.h */

/* The record of each law: &hf_family_weibull. Static. */
#define HF_FAMILY_RECORD(name) extern const hf_family hf_family_##name;
HF_FAMILY_LIST(HF_FAMILY_RECORD)
#undef HF_FAMILY_RECORD

#endif
