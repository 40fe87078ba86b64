holdfast_test(command_option SOURCES command/test_option.c)

set(HOLDFAST_PROGRAM $<TARGET_FILE:holdfast_program>)
holdfast_script_test(command_cases quick ${HOLDFAST_PYTHON} command/run_cli.py ${HOLDFAST_PROGRAM})
holdfast_script_test(command_terminal quick ${HOLDFAST_PYTHON} command/terminal.py ${HOLDFAST_PROGRAM})
foreach(page help man markdown bash examples)
  holdfast_script_test(command_page_${page} quick ${HOLDFAST_PYTHON} command/pages.py ${HOLDFAST_PROGRAM} ${page})
endforeach()
# Not under sanitizers: a program of someone else's would need their runtime too.
holdfast_script_test(command_install full ${HOLDFAST_PYTHON} command/install.py ${PROJECT_BINARY_DIR})
