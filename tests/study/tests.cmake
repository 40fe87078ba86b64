holdfast_script_test(study_properties quick ${HOLDFAST_PYTHON} ${CMAKE_CURRENT_SOURCE_DIR}/study/properties.py $<TARGET_FILE:holdfast_program> ${PROJECT_SOURCE_DIR}/datasets)
holdfast_test(same_answer SOURCES study/test_same_answer.c study/random_campaign.c)
