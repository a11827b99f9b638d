# cmake -C .cmake/release.cmake -S . -B build
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
set(DW_WERROR ON CACHE BOOL "")
