# Rooms are object libraries, added bottom to top. A room may use rooms of strictly lower rank only.

set(HOLDFAST_STRICT_WARNINGS -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes
    -Wmissing-prototypes -Wvla -Wwrite-strings -Wformat=2 -Wpointer-arith -Wundef)

# holdfast_compile_options(target): the flags every target of ours is built with.
function(holdfast_compile_options target)
  target_compile_features(${target} PUBLIC c_std_17)
  set_target_properties(${target} PROPERTIES C_EXTENSIONS OFF C_STANDARD_REQUIRED ON)
  target_compile_options(${target} PRIVATE ${HOLDFAST_STRICT_WARNINGS} -ffp-contract=off
    $<$<NOT:$<CONFIG:Debug>>:-O3> $<$<BOOL:${HOLDFAST_WERROR}>:-Werror>)
  target_include_directories(${target} PRIVATE ${PROJECT_SOURCE_DIR}/include ${PROJECT_SOURCE_DIR}/src
    ${PROJECT_BINARY_DIR}/generated)
  if(HOLDFAST_SANITIZE)
    target_compile_options(${target} PRIVATE -fsanitize=address,undefined -fno-sanitize-recover=undefined -fno-omit-frame-pointer)
    target_link_options(${target} PUBLIC -fsanitize=address,undefined)
  endif()
  if(HOLDFAST_FUZZER)
    target_compile_options(${target} PRIVATE -fsanitize=fuzzer-no-link)
  endif()
  if(HOLDFAST_GCOV)
    target_compile_options(${target} PRIVATE --coverage)
    target_link_options(${target} PUBLIC --coverage)
  endif()
endfunction()

# holdfast_room(name RANK r SOURCES ... [USES rooms...] [LIBRARIES imported targets...])
function(holdfast_room name)
  cmake_parse_arguments(ROOM "" "RANK" "SOURCES;USES;LIBRARIES" ${ARGN})
  foreach(used IN LISTS ROOM_USES)
    get_property(rank GLOBAL PROPERTY HOLDFAST_RANK_${used})
    if(rank STREQUAL "")
      message(FATAL_ERROR "room ${name} uses room ${used}, which is not defined below it")
    elseif(NOT rank LESS ROOM_RANK)
      message(FATAL_ERROR "room ${name} (rank ${ROOM_RANK}) may not use room ${used} (rank ${rank})")
    endif()
  endforeach()
  set_property(GLOBAL PROPERTY HOLDFAST_RANK_${name} ${ROOM_RANK})
  set_property(GLOBAL APPEND PROPERTY HOLDFAST_ROOMS ${name})
  list(TRANSFORM ROOM_SOURCES PREPEND ${PROJECT_SOURCE_DIR}/src/${name}/)
  add_library(room_${name} OBJECT ${ROOM_SOURCES})
  holdfast_compile_options(room_${name})
  if(name STREQUAL platform) # all others see plain C17
    target_compile_definitions(room_${name} PRIVATE _XOPEN_SOURCE=700)
  endif()
  set_target_properties(room_${name} PROPERTIES POSITION_INDEPENDENT_CODE ON)
  target_link_libraries(room_${name} PRIVATE ${ROOM_LIBRARIES})
endfunction()
