/* The program. A closed pipe is to be an error that is reported (exit 5), not a silent end. The locale is
 * left at "C": numbers always have a point. */
#include <signal.h>
#include "holdfast/command/command.h"

int main(int count, char **words) {
    signal(SIGPIPE, SIG_IGN);
    return hf_command_main(count, words);
}
