#include "command/terminal.h"

#include <stdlib.h>
#include <string.h>
#include "platform/terminal.h"

enum { WIDTH_UNKNOWN = 80, WIDTH_LEAST = 40, WIDTH_MOST = 1000 };

static size_t width_within(long columns) {
    if (columns < 1 || columns > WIDTH_MOST) return 0;
    return columns < WIDTH_LEAST ? WIDTH_LEAST : (size_t)columns;
}

static size_t terminal_width(bool output_is_terminal) {
    const char *columns = getenv("COLUMNS");
    size_t width = columns ? width_within(strtol(columns, NULL, 10)) : 0;
    if (width == 0 && output_is_terminal) width = width_within((long)hf_platform_columns());
    return width ? width : WIDTH_UNKNOWN;
}

void hf_terminal_detect(hf_terminal *terminal) {
    const char *no_color = getenv("NO_COLOR");
    const char *force = getenv("CLICOLOR_FORCE");
    const char *term = getenv("TERM");
    terminal->input = hf_platform_is_terminal(0);
    terminal->output = hf_platform_is_terminal(1);
    terminal->errors = hf_platform_is_terminal(2);
    terminal->width = terminal_width(terminal->output);
    bool refused = no_color && *no_color;
    terminal->color_force = !refused && force && *force && strcmp(force, "0") != 0;
    terminal->color_off = refused || (term && strcmp(term, "dumb") == 0);
}

bool hf_terminal_color(const hf_terminal *terminal, const char *wish, bool to_file) {
    if (strcmp(wish, "always") == 0) return true;
    if (strcmp(wish, "never") == 0 || to_file) return false;
    if (terminal->color_force) return true;
    return terminal->output && !terminal->color_off;
}
