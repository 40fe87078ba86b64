holdfast_script_test(extremes full ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/extremes/run.py $<TARGET_FILE:holdfast_program>)
