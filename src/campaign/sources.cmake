holdfast_room(campaign RANK 3 USES base load numeric strength SOURCES
  campaign.c change.c reader.c finding.c read_rig.c read_designs.c
  read_looks.c outcome.c used.c checks.c warnings.c record.c object_edit.c set.c add.c start.c write_plan.c hanging.c journal.c makeable.c sanity.c
  table_scan.c table_columns.c table_cell.c table_splice.c table_import.c table_export.c)
