holdfast_room(platform RANK -1 SOURCES
  files_posix.c
  signals_posix.c
  terminal_posix.c
  $<IF:$<BOOL:${NCURSES_FOUND}>,screen_ncurses.c,screen_none.c>
  clock_posix.c
  c_locale_posix.c
  process_posix.c)
