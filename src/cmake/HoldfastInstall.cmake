# What is installed, and the target that shows the program at work.

# The manual page and the completion come from the program itself, so they cannot lag behind it.
set(HOLDFAST_GENERATED ${PROJECT_BINARY_DIR}/generated/command)
file(MAKE_DIRECTORY ${HOLDFAST_GENERATED})
set(HOLDFAST_PAGES ${HOLDFAST_GENERATED}/holdfast.1)
add_custom_command(OUTPUT ${HOLDFAST_GENERATED}/holdfast.1 COMMAND holdfast_program help --man -o ${HOLDFAST_GENERATED}/holdfast.1
  DEPENDS holdfast_program COMMENT "Manual page" VERBATIM)
foreach(shell bash zsh fish)
  add_custom_command(OUTPUT ${HOLDFAST_GENERATED}/holdfast.${shell}
    COMMAND holdfast_program help --completion ${shell} -o ${HOLDFAST_GENERATED}/holdfast.${shell}
    DEPENDS holdfast_program COMMENT "Completion for ${shell}" VERBATIM)
  list(APPEND HOLDFAST_PAGES ${HOLDFAST_GENERATED}/holdfast.${shell})
endforeach()
add_custom_target(holdfast_pages ALL DEPENDS ${HOLDFAST_PAGES})

# The library is static: whoever links it links what it uses.
set(HOLDFAST_PC_OPENMP)
if(OpenMP_C_FOUND)
  set(HOLDFAST_PC_OPENMP ${OpenMP_C_FLAGS})
endif()
list(JOIN NCURSES_LDFLAGS " " HOLDFAST_PC_SCREEN)
# Relative to where holdfast.pc lies, so that the installed tree can be moved.
file(RELATIVE_PATH HOLDFAST_PC_UP ${CMAKE_INSTALL_FULL_LIBDIR}/pkgconfig ${CMAKE_INSTALL_PREFIX})
string(REGEX REPLACE "/$" "" HOLDFAST_PC_UP ${HOLDFAST_PC_UP})
foreach(kind LIBDIR INCLUDEDIR)
  string(REPLACE "${CMAKE_INSTALL_PREFIX}/" "\${prefix}/" HOLDFAST_PC_${kind} ${CMAKE_INSTALL_FULL_${kind}})
endforeach()
configure_file(${CMAKE_CURRENT_LIST_DIR}/holdfast.pc.in ${PROJECT_BINARY_DIR}/generated/holdfast.pc @ONLY)

install(TARGETS holdfast_program RUNTIME)
install(TARGETS holdfast ARCHIVE)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/holdfast TYPE INCLUDE)
install(FILES ${PROJECT_BINARY_DIR}/generated/holdfast.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
install(FILES ${HOLDFAST_GENERATED}/holdfast.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${HOLDFAST_GENERATED}/holdfast.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
  RENAME holdfast)
install(FILES ${HOLDFAST_GENERATED}/holdfast.zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions RENAME _holdfast)
install(FILES ${HOLDFAST_GENERATED}/holdfast.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE ${PROJECT_SOURCE_DIR}/README.md TYPE DOC OPTIONAL)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/docs/ TYPE DOC)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/datasets TYPE DOC)

# Run where the data lie, so that the command line shown is the one a person would type.
add_custom_target(demo COMMAND holdfast_program assess shade-sail.json
  WORKING_DIRECTORY ${PROJECT_SOURCE_DIR}/datasets DEPENDS holdfast_program
  COMMENT "holdfast assess shade-sail.json" USES_TERMINAL VERBATIM)
