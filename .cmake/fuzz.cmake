# cmake -C .cmake/fuzz.cmake -S . -B build-fuzz: one libFuzzer program a parser (clang), e.g.
#   build-fuzz/tests/fuzz_job tests/fuzz/corpus/job -max_len=8192 -max_total_time=600
set(CMAKE_C_COMPILER clang CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_C_FLAGS_DEBUG "-O1 -g" CACHE STRING "")
set(DW_SANITIZE "fuzzer-no-link,address,undefined" CACHE STRING "")
set(DW_FUZZ ON CACHE BOOL "")
