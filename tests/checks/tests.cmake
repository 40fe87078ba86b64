holdfast_test(published_checks SOURCES checks/test_checks.c LABELS full)
holdfast_script_test(published_checks_can_fail long ${HOLDFAST_PYTHON} checks/can_fail.py $<TARGET_FILE:test_published_checks>)
