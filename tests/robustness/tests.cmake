# What a person types, a full disk, a crash: no pull is lost. The short form runs with the quick tests; the long one is a target of its own.
add_library(robustness_shim MODULE robustness/shim.c)
target_compile_features(robustness_shim PRIVATE c_std_17)
target_compile_options(robustness_shim PRIVATE -Wall -Wextra)
# A preloaded library and the sanitizers' own do not go together.
set(HOLDFAST_PRELOADED quick)
if(HOLDFAST_SANITIZE)
  set(HOLDFAST_PRELOADED full)
endif()
holdfast_script_test(robustness ${HOLDFAST_PRELOADED} ${HOLDFAST_PYTHON} robustness/robustness.py ${HOLDFAST_PROGRAM} $<TARGET_FILE:robustness_shim>)
holdfast_script_test(robustness_keeping ${HOLDFAST_PRELOADED} ${HOLDFAST_PYTHON} robustness/keeping.py ${HOLDFAST_PROGRAM} $<TARGET_FILE:robustness_shim>)
add_custom_target(robustness_long
  COMMAND ${HOLDFAST_PYTHON} robustness/robustness.py ${HOLDFAST_PROGRAM} $<TARGET_FILE:robustness_shim> --long ${PROJECT_SOURCE_DIR}/docs/robustness.md
  WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} DEPENDS holdfast_program robustness_shim USES_TERMINAL)
