# What the worksheet says, and the worksheet as a printer gets it.
holdfast_script_test(sheet_written quick ${HOLDFAST_PYTHON} sheet/written.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(sheet_printed full ${HOLDFAST_PYTHON} sheet/printed.py $<TARGET_FILE:holdfast_program>)
set_tests_properties(sheet_printed PROPERTIES SKIP_RETURN_CODE 77)
