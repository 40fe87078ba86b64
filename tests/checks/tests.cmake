holdfast_test(published_checks SOURCES checks/test_checks.c LABELS full)
