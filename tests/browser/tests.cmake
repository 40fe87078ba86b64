# What Holdfast makes of hard campaigns, seen by a browser.
# Every day the campaigns that are each hard in a way of their own; before a release the others.
holdfast_script_test(browser_pages full ${HOLDFAST_PYTHON} browser/check_pages.py $<TARGET_FILE:holdfast_program> demo hostile capitals right-to-left huge tangled)
holdfast_script_test(browser_pages_all long ${HOLDFAST_PYTHON} browser/check_pages.py $<TARGET_FILE:holdfast_program>)
set_tests_properties(browser_pages PROPERTIES COST 1000) # first, so that it runs beside the others
holdfast_script_test(browser_names full ${HOLDFAST_PYTHON} browser/check_names.py $<TARGET_FILE:holdfast_program>)
