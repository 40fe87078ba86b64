#include "numeric/library.h"

#include <stdatomic.h>
#include <gsl/gsl_errno.h>

enum { NOT_STARTED, STARTING, STARTED };

/* Whichever thread comes first does it; the others wait the moment it takes. */
void hf_library_start(void) {
    static atomic_int state = NOT_STARTED;
    int expected = NOT_STARTED;
    if (atomic_compare_exchange_strong(&state, &expected, STARTING)) {
        (void)gsl_set_error_handler_off();
        atomic_store(&state, STARTED);
    }
    while (atomic_load(&state) != STARTED) continue;
}
