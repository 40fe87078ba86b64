/* What a change made of parts, shown back. */
#ifndef HF_COMMAND_RECORDED_H
#define HF_COMMAND_RECORDED_H

#include "command/common.h"

/* Shows the parts `ids` (two at most) as they are after the change: force on the part, what was and is now, and what is odd since. */
hf_exit hf_recorded_show(hf_request *request, const hf_campaign_change *change, const char *const *ids,
                         size_t count, const hf_report_format *format);

#endif
