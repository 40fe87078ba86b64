# The program once more, with one law more.
holdfast_script_test(fourth_law full ${HOLDFAST_PYTHON} fourth_law/run.py $<TARGET_FILE:holdfast_program> ${CMAKE_COMMAND} ${CMAKE_C_COMPILER} ${PROJECT_BINARY_DIR}/fourth_law)
set_tests_properties(fourth_law PROPERTIES TIMEOUT 3000)
