holdfast_script_test(handover quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/handover/run.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(handover_reader quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/handover/test_reader.py)
