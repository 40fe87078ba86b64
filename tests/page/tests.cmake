# The page in a headless browser, opened as a file, beside the native program of the preset "dev".
set(HOLDFAST_NATIVE ${PROJECT_SOURCE_DIR}/.build/dev/src/holdfast CACHE FILEPATH "The native program that the page is compared with")
foreach(test engine day keeping site)
  add_test(NAME page_${test} COMMAND ${HOLDFAST_PYTHON} page/check_${test}.py ${HOLDFAST_ONE_FILE} ${HOLDFAST_NATIVE}
    WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR})
  set_tests_properties(page_${test} PROPERTIES LABELS full TIMEOUT 300)
endforeach()
