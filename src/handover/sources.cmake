holdfast_room(handover RANK 8 USES base load document campaign strength comparing planning study words chart SOURCES
  handover_document.c
  handover_design.c
  handover_comparison.c
  handover_conditions.c
  handover_pulls.c
  pulls_grid.c
  handover_method.c
  sheet.c
  sheet_day.c
  sheet_style.c
  notebook.c
  notebook_cells.c
  notebook_markdown.c
  notebook_python.c
  notebook_results.c
  notebook_numbers.c
  one_file.c)
