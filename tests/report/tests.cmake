foreach(part sum words formats real)
  holdfast_test(report_${part} SOURCES report/test_${part}.c report/fixture.c report/redo.c)
endforeach()
