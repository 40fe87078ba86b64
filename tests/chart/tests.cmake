holdfast_test(chart_scale SOURCES chart/test_scale.c)
target_include_directories(test_chart_scale PRIVATE ${PROJECT_SOURCE_DIR}/src)
holdfast_script_test(chart_pictures full ${HOLDFAST_PYTHON} chart/check_charts.py $<TARGET_FILE:holdfast_program>)
