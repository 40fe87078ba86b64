#include "numeric/library.h"

#include <pthread.h>
#include <gsl/gsl_errno.h>

static pthread_once_t once = PTHREAD_ONCE_INIT;

static void switch_off(void) {
    (void)gsl_set_error_handler_off();
}

void hf_library_start(void) {
    (void)pthread_once(&once, switch_off);
}
