/* Which content a load can be promised for: the search that every method of bounds shares. */
#ifndef HF_STRENGTH_CONTENT_SEARCH_H
#define HF_STRENGTH_CONTENT_SEARCH_H

#include "holdfast/base/status.h"
#include "holdfast/numeric/solve.h"

/* The largest content, from `lowest` to 0.99999, at which excess(q, context), with content = exp(−e^q), is not below 0: how far the bound at
 * that content still lies above the load. HF_RANGE with *content = lowest where it never does, HF_NO_RESULT where it is NaN there. */
hf_status hf_content_search(hf_function excess, void *context, double lowest, double *content);

#endif
