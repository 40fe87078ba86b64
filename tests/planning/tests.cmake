holdfast_test(planning_weights SOURCES planning/test_weights.c)
holdfast_test(planning_ladder SOURCES planning/test_ladder.c)
holdfast_test(planning_batch_gain SOURCES planning/test_batch_gain.c)
holdfast_test(planning_looks_gain SOURCES planning/test_looks_gain.c)
holdfast_test(planning_step_price SOURCES planning/test_step_price.c)
holdfast_test(planning_how_many SOURCES planning/test_how_many.c)
holdfast_test(planning_bench SOURCES planning/test_bench.c LABELS full)

# The figures of reference_planning.txt drawn again with another generator state must agree with the file; nothing of ours is in them.
holdfast_script_test(planning_reference long ${HOLDFAST_PYTHON} planning/reference_planning.py --check planning/reference_planning.txt)
