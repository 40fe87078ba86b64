holdfast_script_test(layers quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/tools/layers.py)
holdfast_script_test(circles "quick;plain" ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/tools/circles.py ${PROJECT_BINARY_DIR})
holdfast_script_test(ratchet quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/tools/ratchet.py)
holdfast_script_test(headers_alone quick sh ${CMAKE_CURRENT_SOURCE_DIR}/tools/headers.sh ${CMAKE_C_COMPILER})
holdfast_script_test(format quick sh ${CMAKE_CURRENT_SOURCE_DIR}/tools/format_check.sh)
holdfast_script_test(tools_self_test quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/tools/self_test.py ${CMAKE_C_COMPILER})

add_executable(make_weibull_table EXCLUDE_FROM_ALL tools/make_weibull_table.c)
holdfast_compile_options(make_weibull_table)
target_link_libraries(make_weibull_table PRIVATE holdfast)

add_executable(make_looks_table EXCLUDE_FROM_ALL tools/make_looks_table.c)
holdfast_compile_options(make_looks_table)
target_link_libraries(make_looks_table PRIVATE holdfast)
