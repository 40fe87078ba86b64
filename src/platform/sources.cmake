holdfast_room(platform RANK -1 SOURCES
  files_posix.c
  signals_posix.c
  terminal_posix.c
  clock_posix.c
  c_locale_posix.c
  process_posix.c)
