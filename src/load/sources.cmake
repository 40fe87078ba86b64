holdfast_room(load RANK 1 USES base SOURCES unit.c rig.c weight_list.c)
