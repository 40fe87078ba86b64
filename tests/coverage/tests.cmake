holdfast_test(coverage SOURCES coverage/test_coverage.c coverage/study.c LABELS full)

# The full study, tens of minutes: cmake --build --preset dev --target coverage_study. Writes docs/coverage.md.
add_executable(coverage_study_program EXCLUDE_FROM_ALL coverage/study_main.c coverage/study.c)
holdfast_compile_options(coverage_study_program)
target_include_directories(coverage_study_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(coverage_study_program PRIVATE holdfast)
add_custom_target(coverage_study COMMAND sh -c "$<TARGET_FILE:coverage_study_program> > coverage.md.part" COMMAND
  ${CMAKE_COMMAND} -E rename coverage.md.part ${PROJECT_SOURCE_DIR}/docs/coverage.md
  DEPENDS coverage_study_program WORKING_DIRECTORY ${CMAKE_CURRENT_BINARY_DIR} USES_TERMINAL VERBATIM)
