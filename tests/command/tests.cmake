holdfast_test(command_option SOURCES command/test_option.c)

add_executable(test_command_locale_host command/test_locale_host.c)
holdfast_compile_options(test_command_locale_host)
target_include_directories(test_command_locale_host PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_compile_definitions(test_command_locale_host PRIVATE HF_TEST_DIR="${CMAKE_CURRENT_SOURCE_DIR}")
target_link_libraries(test_command_locale_host PRIVATE holdfast PkgConfig::CHECK)
holdfast_script_test(command_locale_host quick sh ${CMAKE_CURRENT_SOURCE_DIR}/base/comma_locale.sh $<TARGET_FILE:test_command_locale_host>)

set(HOLDFAST_PROGRAM $<TARGET_FILE:holdfast_program>)
holdfast_script_test(command_cases quick ${HOLDFAST_PYTHON} command/run_cli.py ${HOLDFAST_PROGRAM})
holdfast_script_test(command_day quick ${HOLDFAST_PYTHON} command/day.py ${HOLDFAST_PROGRAM})
holdfast_script_test(command_slips quick ${HOLDFAST_PYTHON} command/slips.py ${HOLDFAST_PROGRAM})
holdfast_script_test(command_terminal quick ${HOLDFAST_PYTHON} command/terminal.py ${HOLDFAST_PROGRAM})
foreach(page help man markdown completion examples)
  holdfast_script_test(command_page_${page} quick ${HOLDFAST_PYTHON} command/pages.py ${HOLDFAST_PROGRAM} ${page})
endforeach()
# Not under sanitizers: a program of someone else's would need their runtime too.
holdfast_script_test(command_install full ${HOLDFAST_PYTHON} command/install.py ${PROJECT_BINARY_DIR})
