holdfast_room(study RANK 5 USES base load numeric campaign strength SOURCES assess.c event.c design_cautions.c)
