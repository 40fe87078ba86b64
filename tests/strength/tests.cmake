holdfast_test(strength_fit SOURCES strength/test_fit.c)
holdfast_test(strength_bound SOURCES strength/test_bound.c)
