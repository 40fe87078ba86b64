holdfast_room(study RANK 5 USES base load numeric campaign strength comparing planning SOURCES
  assess.c event.c design_cautions.c plan.c plan_small.c plan_writing.c sheet.c)
