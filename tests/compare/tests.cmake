holdfast_test(compare_planned SOURCES compare/test_planned.c LABELS full)
holdfast_script_test(compare quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/compare/run.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(compare_independent quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/compare/independent.py --fresh)
holdfast_script_test(compare_independent_anew long ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/compare/independent.py --check)
