# cmake -C .cmake/coverage.cmake -S . -B build-coverage: which lines the tests run (sh tests/coverage.sh tells, room by room)
# Counters are atomic, since some tests run threads and a lost count reads as a negative one.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_C_FLAGS_DEBUG "-O0 -g --coverage -fprofile-update=atomic" CACHE STRING "")
set(DW_WERROR ON CACHE BOOL "")
