foreach(part status arena text number json json_refused json_write load)
  holdfast_test(base_${part} SOURCES base/test_${part}.c)
endforeach()
# A fast machine parses 64 MiB in well under a second; the test allows for a slow, busy one and for a sanitizer.
holdfast_test(base_json_large SOURCES base/test_json_large.c LABELS full)

holdfast_test(base_file SOURCES base/test_file.c STATIC)
target_link_options(test_base_file PRIVATE -Wl,--wrap=link,--wrap=rename,--wrap=fsync)

add_executable(test_base_locale base/test_locale.c)
holdfast_compile_options(test_base_locale)
target_include_directories(test_base_locale PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(test_base_locale PRIVATE holdfast PkgConfig::CHECK)
holdfast_script_test(base_locale quick sh ${CMAKE_CURRENT_SOURCE_DIR}/base/comma_locale.sh $<TARGET_FILE:test_base_locale>)
