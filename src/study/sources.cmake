holdfast_room(study RANK 5 USES base load numeric campaign strength comparing planning SOURCES
  compare.c compare_design.c compare_ends.c compare_verdict.c compare_pair.c compare_mirror.c compare_cautions.c
  assess.c promise.c promise_cautions.c choose.c answer.c modes_of_failing.c event.c pulled_sample.c pulling_order.c one_record.c caution.c sample_cautions.c design_cautions.c plan.c plan_guess.c plan_ladder.c plan_looks.c plan_next.c plan_small.c plan_writing.c step_curve.c study.c so_far.c outlook.c probability_plot.c sheet.c standing.c)
