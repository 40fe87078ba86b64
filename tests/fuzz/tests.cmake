# Every *_target.c is one fuzz target; corpus/<name> are its files. They are replayed with altered copies of themselves.
# A new target needs its file and its folder, nothing here.
file(GLOB HOLDFAST_FUZZ_TARGETS CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/fuzz/*_target.c)
foreach(source IN LISTS HOLDFAST_FUZZ_TARGETS)
  get_filename_component(stem ${source} NAME_WE)
  string(REPLACE _target "" name ${stem})
  add_executable(fuzz_${name} ${source} fuzz/standalone_driver.c)
  holdfast_compile_options(fuzz_${name})
  target_include_directories(fuzz_${name} PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
  target_link_libraries(fuzz_${name} PRIVATE holdfast)
  holdfast_script_test(fuzz_${name} quick fuzz_${name} --mutants 200 ${CMAKE_CURRENT_SOURCE_DIR}/fuzz/corpus/${name})
endforeach()
