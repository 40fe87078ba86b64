# The page: the engine by clang for WebAssembly, and the modules of script and style that join.py puts into one file with it.
find_program(HOLDFAST_PYTHON NAMES python3 PATHS /usr/bin NO_DEFAULT_PATH REQUIRED)
holdfast_room(page RANK 10 USES base numeric command platform SOURCES
  engine.c)

get_property(HOLDFAST_ROOM_LIST GLOBAL PROPERTY HOLDFAST_ROOMS)
add_executable(holdfast_engine)
foreach(room IN LISTS HOLDFAST_ROOM_LIST)
  target_sources(holdfast_engine PRIVATE $<TARGET_OBJECTS:room_${room}>)
endforeach()
target_link_libraries(holdfast_engine PRIVATE PkgConfig::GSL PkgConfig::CJSON)
set_target_properties(holdfast_engine PROPERTIES OUTPUT_NAME engine SUFFIX .wasm LINKER_LANGUAGE C)

# Made at every build: it takes less than a second, and the commit it names may have moved.
set(HOLDFAST_ONE_FILE ${PROJECT_BINARY_DIR}/holdfast.html CACHE INTERNAL "The page, for its tests too")
add_custom_target(holdfast_page ALL COMMAND ${HOLDFAST_PYTHON} ${PROJECT_SOURCE_DIR}/src/page/join.py ${PROJECT_SOURCE_DIR}/src/page
  $<TARGET_FILE:holdfast_engine> ${PROJECT_VERSION} ${HOLDFAST_ONE_FILE} BYPRODUCTS ${HOLDFAST_ONE_FILE}
  COMMENT "${HOLDFAST_ONE_FILE}" VERBATIM)
add_dependencies(holdfast_page holdfast_engine)
install(FILES ${HOLDFAST_ONE_FILE} DESTINATION ${CMAKE_INSTALL_DATADIR}/holdfast)
