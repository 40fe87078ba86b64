holdfast_room(command RANK 9 USES platform base load numeric campaign strength comparing planning study document words chart handover SOURCES
  command.c option.c request.c common.c output.c prompt.c terminal.c progress.c program.c
  help_text.c help_man.c help_markdown.c help_shells.c help_json.c complete.c
  cmd_new.c cmd_check.c cmd_record.c recorded.c
  cmd_add.c cmd_set.c cmd_day.c cmd_status.c cmd_undo.c cmd_history.c
  cmd_import.c cmd_export.c cmd_assess.c cmd_compare.c cmd_factor.c
  plan_options.c cmd_plan.c cmd_plan_contrast.c cmd_plan_proof.c cmd_plan_next.c cmd_sheet.c cmd_report.c cmd_chart.c png.c cmd_notebook.c cmd_coverage.c cmd_help.c cmd_version.c)
