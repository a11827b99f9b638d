# cmake -C .cmake/debug.cmake -S . -B build-debug
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(DW_WERROR ON CACHE BOOL "")
