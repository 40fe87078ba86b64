foreach(part sum words formats answers real demo)
  holdfast_test(report_${part} SOURCES report/test_${part}.c report/fixture.c report/golden.c report/redo.c)
endforeach()
