#include "platform/terminal.h"

bool hf_platform_is_terminal(int stream) {
    (void)stream;
    return false;
}

bool hf_platform_input_within(double seconds) {
    (void)seconds;
    return true; /* its end */
}

size_t hf_platform_columns(void) {
    return 0;
}
