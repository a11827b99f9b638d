# cmake -C .cmake/clang.cmake -S . -B build-clang: the same warnings by another compiler
set(CMAKE_C_COMPILER clang CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(DW_WERROR ON CACHE BOOL "")
