# Planning from the outside: figures beside scipy and plain simulation, the ladder recomputed, the file and the sheet read back.
holdfast_script_test(plan_outside full ${HOLDFAST_PYTHON} plan/run.py $<TARGET_FILE:holdfast_program>)
