# The page in a headless browser, opened as a file, beside the native program of the preset "dev".
set(HOLDFAST_NATIVE ${PROJECT_SOURCE_DIR}/.build/dev/src/holdfast CACHE FILEPATH "The native program that the page is compared with")
foreach(test engine day keeping file site)
  add_test(NAME page_${test} COMMAND ${HOLDFAST_PYTHON} page/check_${test}.py ${HOLDFAST_ONE_FILE} ${HOLDFAST_NATIVE}
    WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR})
  set_tests_properties(page_${test} PROPERTIES LABELS full TIMEOUT 600)
endforeach()
# Takes the pictures of the guide anew, by the day that the test goes through.
add_custom_target(page_pictures COMMAND ${HOLDFAST_PYTHON} page/check_day.py ${HOLDFAST_ONE_FILE} ${HOLDFAST_NATIVE} ${PROJECT_SOURCE_DIR}/docs/screens
  WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} DEPENDS holdfast_page VERBATIM)
# Size, and how long a person waits, on this machine and on a processor six times slower.
add_custom_target(page_bench COMMAND ${HOLDFAST_PYTHON} page/bench.py ${HOLDFAST_ONE_FILE} ${HOLDFAST_NATIVE}
  WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} DEPENDS holdfast_page USES_TERMINAL VERBATIM)
