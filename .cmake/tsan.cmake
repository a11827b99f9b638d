# cmake -C .cmake/tsan.cmake -S . -B build-tsan: the thread sanitizer, for the tests that use threads
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_C_FLAGS_DEBUG "-O1 -g" CACHE STRING "")
set(DW_WERROR ON CACHE BOOL "")
set(DW_SANITIZE "thread" CACHE STRING "")
