holdfast_room(words RANK 6 USES base load document campaign strength comparing planning study SOURCES
  print.c figures.c show.c json_common.c json_fields.c
  assess_document.c assess_answer.c assess_next.c assess_words.c assess_tables.c assess_fits.c assess_json.c answer_json.c promise_words.c promise_json.c
  compare_document.c compare_tables.c compare_json.c plan_document.c plan_json.c plan_looks.c plan_small.c plan_words.c small_reports.c journal_reports.c bench_reports.c
  sum.c sum_words.c load_steps.c law_words.c caution_words.c glance.c)
