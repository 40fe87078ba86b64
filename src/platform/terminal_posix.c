#include "platform/terminal.h"

#include <poll.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

bool hf_platform_is_terminal(int stream) {
    return isatty(stream) == 1;
}

/* Interrupted, it has waited for less; whoever counts seconds reads a clock. */
bool hf_platform_input_within(double seconds) {
    struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
    return poll(&input, 1, (int)(1000 * seconds)) > 0;
}

size_t hf_platform_columns(void) {
    struct winsize size;
    memset(&size, 0, sizeof size);
    return ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}
