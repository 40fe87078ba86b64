# Toolchain of the preset "page": Debian's clang and wasi-libc. A library to be called, not a program with an end of its own.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang-14)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
# Else clang takes the headers of this machine where wasi-libc has none.
set(CMAKE_C_FLAGS_INIT "-Wno-unused-command-line-argument -nostdlibinc -isystem /usr/include/wasm32-wasi -ffile-prefix-map=${CMAKE_CURRENT_LIST_DIR}/../../=")
set(CMAKE_EXE_LINKER_FLAGS_INIT "-fuse-ld=/usr/bin/wasm-ld-14 -mexec-model=reactor -Wl,--stack-first -Wl,-z,stack-size=1048576 -Wl,--gc-sections -Wl,--strip-all")
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
