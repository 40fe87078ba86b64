/* What a call can come back with.
 *
 * Every function that can fail returns an hf_status; HF_OK is 0. The numbers are pinned: they are part
 * of the interface and never change meaning. A mistake in the data is returned, a mistake of the
 * programmer is asserted, and only main decides to exit. */
#ifndef HOLDFAST_BASE_STATUS_H
#define HOLDFAST_BASE_STATUS_H

/* X(name, value, one-word name, sentence) */
#define HF_STATUS_LIST(X)                                                                                    \
    X(HF_OK, 0, "ok", "done")                                                                                \
    X(HF_USAGE, 1, "usage", "the command line asks for something that does not exist")                       \
    X(HF_BAD_DATA, 2, "bad_data", "the file says something that cannot be")                                  \
    X(HF_NO_RESULT, 3, "no_result", "nothing can be computed from these data")                               \
    X(HF_RANGE, 4, "range", "a number lies outside the range the method is proven for")                      \
    X(HF_NUMERIC, 5, "numeric", "a numerical method did not reach its tolerance")                            \
    X(HF_MEMORY, 6, "memory", "out of memory")                                                               \
    X(HF_FILE, 7, "file", "a file could not be read or written")

typedef enum hf_status {
#define HF_STATUS_ENUM(name, value, word, sentence) name = value,
    HF_STATUS_LIST(HF_STATUS_ENUM)
#undef HF_STATUS_ENUM
} hf_status;

/* The one-word name ("bad_data"); "unknown" for a number that is no status. Static text. */
const char *hf_status_name(hf_status status);

/* The sentence that explains the status. Static text. */
const char *hf_status_text(hf_status status);

#endif
