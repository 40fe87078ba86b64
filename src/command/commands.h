/* One record per command, each defined in cmd_<name>.c. */
#ifndef HF_COMMAND_COMMANDS_H
#define HF_COMMAND_COMMANDS_H

#include "holdfast/command/command.h"

extern const hf_command hf_command_new;
extern const hf_command hf_command_check;
extern const hf_command hf_command_record;
extern const hf_command hf_command_add;
extern const hf_command hf_command_set;
extern const hf_command hf_command_status;
extern const hf_command hf_command_day;
extern const hf_command hf_command_undo;
extern const hf_command hf_command_history;
extern const hf_command hf_command_import;
extern const hf_command hf_command_export;
extern const hf_command hf_command_plan;
extern const hf_command hf_command_plan_contrast;
extern const hf_command hf_command_plan_proof;
extern const hf_command hf_command_plan_next;
extern const hf_command hf_command_scatter;
extern const hf_command hf_command_sheet;
extern const hf_command hf_command_chart;
extern const hf_command hf_command_notebook;
extern const hf_command hf_command_page;
extern const hf_command hf_command_assess;
extern const hf_command hf_command_compare;
extern const hf_command hf_command_report;
extern const hf_command hf_command_factor;
extern const hf_command hf_command_coverage;
extern const hf_command hf_command_help;
extern const hf_command hf_command_version;

#endif
