holdfast_script_test(realities quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/realities/run.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(realities_independent quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/realities/independent.py --fresh)
holdfast_script_test(realities_independent_anew long ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/realities/independent.py --check)
