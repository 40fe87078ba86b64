# What Holdfast makes of hard campaigns, seen by a browser.
holdfast_script_test(browser_pages full ${HOLDFAST_PYTHON} browser/check_pages.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(browser_names full ${HOLDFAST_PYTHON} browser/check_names.py $<TARGET_FILE:holdfast_program>)
