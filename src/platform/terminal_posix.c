#include "platform/terminal.h"

#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

bool hf_platform_is_terminal(int stream) {
    return isatty(stream) == 1;
}

size_t hf_platform_columns(void) {
    struct winsize size;
    memset(&size, 0, sizeof size);
    return ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}
