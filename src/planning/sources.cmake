holdfast_room(planning RANK 4 USES base numeric strength comparing SOURCES
  guess.c governing.c method.c bench.c memo.c spread.c rungs.c coverage.c coverage_batches.c looks_gain.c comparison_coverage.c
  weights.c climb.c ladder.c pilot.c
  how_many.c how_many_closed.c how_many_simulated.c step_price.c proof.c published_coverage.c published_coverage_table.c published_open_table.c next.c order.c)
