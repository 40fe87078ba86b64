holdfast_room(load RANK 1 USES base SOURCES unit.c rig.c)
