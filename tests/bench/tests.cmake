# `cmake --build .build/dev --target bench`: figures and ratios to R's survival regression.
add_executable(bench_program EXCLUDE_FROM_ALL bench/bench.c bench/bench_plan.c bench/bench_promises.c)
target_include_directories(bench_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
holdfast_compile_options(bench_program)
target_link_libraries(bench_program PRIVATE holdfast)
add_custom_target(bench
  COMMAND ${HOLDFAST_RSCRIPT} ${CMAKE_CURRENT_SOURCE_DIR}/bench/rates.R > ${CMAKE_CURRENT_BINARY_DIR}/rates.txt
  COMMAND bench_program ${PROJECT_SOURCE_DIR}/datasets/shade-sail.json ${CMAKE_CURRENT_BINARY_DIR}/rates.txt
  DEPENDS bench_program USES_TERMINAL VERBATIM)
