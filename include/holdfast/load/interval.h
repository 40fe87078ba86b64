/* What a pull tells of a strength: an interval.
 *
 * A part that held one load and failed on the way to the next has its strength between the two. A reading on a scale is an interval of no
 * width; a part that stayed whole has no upper end, one that failed at the first load may have no lower. */
#ifndef HOLDFAST_LOAD_INTERVAL_H
#define HOLDFAST_LOAD_INTERVAL_H

typedef enum hf_interval_kind {
    HF_INTERVAL_NONE,  /* nothing is known: void, or not pulled */
    HF_INTERVAL_EXACT, /* lower = upper = reading */
    HF_INTERVAL_CLOSED, /* in (lower, upper]: held at lower, failed going to upper; or a reading with its resolution */
    HF_INTERVAL_BELOW, /* failed at the first load: in (lower, upper]; lower is what the hanger alone made, else 0 */
    HF_INTERVAL_ABOVE /* whole at lower: upper is INFINITY */
} hf_interval_kind;

#endif
