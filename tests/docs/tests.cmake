# What the pages show is what the program does, and their links lead somewhere.
holdfast_script_test(docs_commands "quick;plain" ${HOLDFAST_PYTHON} docs/run_docs.py $<TARGET_FILE:holdfast_program>)
holdfast_script_test(docs_links quick ${HOLDFAST_PYTHON} docs/links.py)
holdfast_script_test(docs_verification full ${HOLDFAST_PYTHON} tools/verification_table.py $<TARGET_FILE:test_published_checks> --check)
holdfast_script_test(docs_pictures full ${HOLDFAST_PYTHON} docs/pictures.py $<TARGET_FILE:holdfast_program>)
# Draws the pictures of the pages anew.
add_custom_target(pictures COMMAND ${HOLDFAST_PYTHON} docs/pictures.py $<TARGET_FILE:holdfast_program> --update
                  WORKING_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR} DEPENDS holdfast_program VERBATIM)
