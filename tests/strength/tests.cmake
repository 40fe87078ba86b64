holdfast_test(strength_fit SOURCES strength/test_fit.c)
holdfast_test(strength_fit_test SOURCES strength/test_fit_test.c)
holdfast_test(strength_bound SOURCES strength/test_bound.c)
holdfast_test(stated_scatter SOURCES strength/test_stated_scatter.c)
holdfast_test(batch_trend SOURCES strength/test_batch_trend.c)
holdfast_test(strength_factor SOURCES strength/test_factor.c)

# True confidence with open observations: a quick subset here, the full table by the target coverage_open_study.
add_executable(coverage_open strength/coverage_open.c)
holdfast_compile_options(coverage_open)
target_link_libraries(coverage_open PRIVATE holdfast)
holdfast_script_test(coverage_open_subset full $<TARGET_FILE:coverage_open> 300)
add_custom_target(coverage_open_study COMMAND coverage_open 20000 USES_TERMINAL)
