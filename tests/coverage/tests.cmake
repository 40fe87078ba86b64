holdfast_test(coverage SOURCES coverage/test_coverage.c coverage/study.c coverage/scatter.c LABELS full)
holdfast_test(published_coverage SOURCES coverage/test_published.c)
holdfast_script_test(published_coverage_page quick ${HOLDFAST_PYTHON} coverage/published_test.py)

# The full study: cmake --build --preset dev --target coverage_study. Writes docs/coverage.md (bounds, then comparisons) and the rows that
# reports quote.
add_executable(coverage_study_program EXCLUDE_FROM_ALL coverage/study_main.c coverage/study.c coverage/scatter.c)
holdfast_compile_options(coverage_study_program)
target_include_directories(coverage_study_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(coverage_study_program PRIVATE holdfast)
add_custom_target(coverage_study
  COMMAND sh coverage/study.sh $<TARGET_FILE:coverage_study_program> $<TARGET_FILE:comparison_study_program>
  $<TARGET_FILE:promise_study_program> $<TARGET_FILE:unseen_study_program>
  WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} USES_TERMINAL VERBATIM)
add_dependencies(coverage_study coverage_study_program comparison_study_program promise_study_program unseen_study_program)

# How little step allowance the Weibull law needs: cmake --build --preset dev --target allowance_study
add_executable(allowance_study_program EXCLUDE_FROM_ALL coverage/study_allowance.c coverage/study.c)
holdfast_compile_options(allowance_study_program)
target_include_directories(allowance_study_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(allowance_study_program PRIVATE holdfast)
add_custom_target(allowance_study COMMAND allowance_study_program USES_TERMINAL VERBATIM)

# Looks, the best of several designs, batches: cmake --build --preset dev --target promise_study
add_executable(promise_study_program EXCLUDE_FROM_ALL coverage/study_promises.c)
holdfast_compile_options(promise_study_program)
target_link_libraries(promise_study_program PRIVATE holdfast)
add_custom_target(promise_study COMMAND promise_study_program USES_TERMINAL VERBATIM)

# A weaker kind among the parts, and another tail: cmake --build --preset dev --target unseen_study
add_executable(unseen_study_program EXCLUDE_FROM_ALL coverage/study_unseen.c coverage/study_ways.c)
holdfast_compile_options(unseen_study_program)
target_include_directories(unseen_study_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR} ${PROJECT_SOURCE_DIR}/src)
target_link_libraries(unseen_study_program PRIVATE holdfast)
add_custom_target(unseen_study COMMAND unseen_study_program USES_TERMINAL VERBATIM)
