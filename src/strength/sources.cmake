# Each row of the list of laws is a file.
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/include/holdfast/strength/family_list.h)
file(READ ${PROJECT_SOURCE_DIR}/include/holdfast/strength/family_list.h laws)
string(REGEX MATCHALL " ROW[(][a-z_]+[)]" laws "${laws}")
list(TRANSFORM laws REPLACE " ROW[(](.+)[)]" "\\1.c")
holdfast_room(strength RANK 2 USES base load numeric SOURCES
  ${laws}
  observation.c
  sample.c
  family.c
  fit.c
  factor.c
  factor_of_two.c
  weibull_table.c
  weibull_tail_table.c
  mids.c
  bound.c
  content_search.c
  open_bound.c
  conditional.c
  looks.c
  looks_table.c
  batch_bound.c
  scatter_library.c
  conditional_weibull.c
  working_fit.c
  order_statistic.c
  stated_scatter.c
  assumed_scatter.c
  confront.c
  batch.c
  batch_f.c
  trend.c
  fit_test.c
  fit_test_cells.c
  trade.c
  working_load.c)

# For the test that one file and one row are enough: the file from elsewhere, the row behind the last one of a copy of the list.
if(HOLDFAST_EXTRA_LAW)
  get_filename_component(law ${HOLDFAST_EXTRA_LAW} NAME_WE)
  file(READ ${PROJECT_SOURCE_DIR}/include/holdfast/strength/family_list.h text)
  string(REGEX REPLACE "( ROW[(][a-z_]+[)])\n" "\\1 ROW(${law})\n" text "${text}")
  file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/generated/extra/holdfast/strength/family_list.h CONTENT "@text@" @ONLY)
  target_sources(room_strength PRIVATE ${HOLDFAST_EXTRA_LAW})
endif()
