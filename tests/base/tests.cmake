foreach(part status arena text number file json json_refused json_write load)
  holdfast_test(base_${part} SOURCES base/test_${part}.c)
endforeach()
# A fast machine parses 64 MiB in well under a second; the test allows for a slow, busy one and for a sanitizer.
holdfast_test(base_json_large SOURCES base/test_json_large.c)
