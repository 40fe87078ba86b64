holdfast_room(base RANK 0 LIBRARIES PkgConfig::CJSON SOURCES
  c_locale.c status.c error.c arena.c text.c number.c file.c sha256.c json_scan.c json.c json_write.c)
