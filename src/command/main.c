/* The program. A closed pipe is to be an error that is reported (exit 5), not a silent end. The locale is
 * left at "C": numbers always have a point. */
#include "holdfast/base/json.h"
#include "holdfast/command/command.h"
#include "platform/signals.h"

int main(int count, char **words) {
    hf_platform_prepare();
    hf_json_count_memory();
    return hf_command_main(count, words);
}
