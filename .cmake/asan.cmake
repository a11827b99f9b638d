# cmake -C .cmake/asan.cmake -S . -B build-asan: the address and undefined-behavior sanitizers
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_C_FLAGS_DEBUG "-O1 -g" CACHE STRING "")
set(DW_WERROR ON CACHE BOOL "")
set(DW_SANITIZE "address,undefined" CACHE STRING "")
