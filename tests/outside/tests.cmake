add_executable(fit_driver outside/fit_driver.c)
holdfast_compile_options(fit_driver)
target_link_libraries(fit_driver PRIVATE holdfast)

holdfast_script_test(outside_survreg full ${HOLDFAST_RSCRIPT} outside/compare_survreg.R $<TARGET_FILE:fit_driver>)
holdfast_script_test(outside_scipy full ${HOLDFAST_PYTHON} outside/compare_scipy.py $<TARGET_FILE:fit_driver>)
holdfast_script_test(outside_factor full ${HOLDFAST_PYTHON} outside/weibull_factor.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(outside_conditional long ${HOLDFAST_PYTHON} outside/conditional_bound.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(outside_printed_sums full ${HOLDFAST_PYTHON} outside/printed_sums.py $<TARGET_FILE:holdfast_program>)
