# A system brings its own files; in a page there is none but the page itself.
if(HOLDFAST_PAGE)
  set(HOLDFAST_SYSTEM wasm)
else()
  set(HOLDFAST_SYSTEM posix)
endif()
holdfast_room(platform RANK -1 SOURCES
  files_${HOLDFAST_SYSTEM}.c
  signals_${HOLDFAST_SYSTEM}.c
  terminal_${HOLDFAST_SYSTEM}.c
  $<IF:$<BOOL:${NCURSES_FOUND}>,screen_ncurses.c,screen_none.c>
  clock.c
  clock_${HOLDFAST_SYSTEM}.c
  c_locale_${HOLDFAST_SYSTEM}.c
  process_${HOLDFAST_SYSTEM}.c)
