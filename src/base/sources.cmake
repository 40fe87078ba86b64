holdfast_room(base RANK 0 USES platform LIBRARIES PkgConfig::CJSON SOURCES
  status.c
  error.c
  memory.c
  arena.c
  text.c
  number.c
  file.c
  file_temporary.c
  file_lock.c
  sha256.c
  json_scan.c
  json.c
  json_write.c)
