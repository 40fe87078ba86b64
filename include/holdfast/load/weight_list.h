/* Weights as a person lists them: "6x10kg 2x5 kg; 1x2.5kg".
 *
 * Count, x, load with its unit; items parted by spaces or semicolons. */
#ifndef HOLDFAST_LOAD_WEIGHT_LIST_H
#define HOLDFAST_LOAD_WEIGHT_LIST_H

#include <stddef.h>
#include "holdfast/base/error.h"
#include "holdfast/load/unit.h"

enum { HF_WEIGHT_LIST_MOST = 64 }; /* kinds in one list: more than anybody owns */

typedef struct hf_weight_item {
    hf_load load; /* of one, above 0 */
    size_t count; /* 1 … 10 000 */
} hf_weight_item;

/* Reads the whole list into items[0..*count), at most `limit`. A load without a unit is in `bare`; with `bare` NULL it must have one. HF_USAGE with what was found and expected; an empty list is
 * a mistake too. */
hf_status hf_weight_list_read(const char *text, const hf_unit *bare, hf_weight_item *items, size_t limit,
                              size_t *count, hf_error *error);

#endif
