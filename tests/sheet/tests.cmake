# The worksheet as a printer gets it.
holdfast_script_test(sheet_printed full ${HOLDFAST_PYTHON} sheet/printed.py $<TARGET_FILE:holdfast_program>)
set_tests_properties(sheet_printed PROPERTIES SKIP_RETURN_CODE 77)
