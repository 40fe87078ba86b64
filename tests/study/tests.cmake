holdfast_script_test(study_properties quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/study/properties.py $<TARGET_FILE:holdfast_program> ${PROJECT_SOURCE_DIR}/datasets)
# Five hundred campaigns are minutes under the sanitizers, which other tests keep busy.
set(HOLDFAST_MANY quick)
if(HOLDFAST_SANITIZE)
  set(HOLDFAST_MANY full)
endif()
holdfast_test(study_promise SOURCES study/test_promise.c)
holdfast_test(same_answer SOURCES study/test_same_answer.c study/random_campaign.c LABELS ${HOLDFAST_MANY})
holdfast_script_test(study_limits "quick;plain" ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/study/limits.py $<TARGET_FILE:holdfast_program>)
add_custom_target(mutate_limits COMMAND ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/study/mutate_limits.py ${PROJECT_BINARY_DIR} --update
  USES_TERMINAL VERBATIM)
