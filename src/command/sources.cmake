holdfast_room(command RANK 7 USES base load numeric campaign strength study report SOURCES
  command.c)
