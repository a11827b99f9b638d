# GLPK ships neither a pkg-config file nor a CMake package, so look for its header and library.
# Gives GLPK_FOUND, GLPK_VERSION and the target GLPK::GLPK.
find_path(GLPK_INCLUDE_DIR glpk.h)
find_library(GLPK_LIBRARY glpk)
if(GLPK_INCLUDE_DIR)
  file(STRINGS "${GLPK_INCLUDE_DIR}/glpk.h" glpk_version_lines REGEX "^#define GLP_(MAJOR|MINOR)_VERSION")
  string(REGEX REPLACE ".*MAJOR_VERSION +([0-9]+).*MINOR_VERSION +([0-9]+).*" "\\1.\\2" GLPK_VERSION "${glpk_version_lines}")
endif()
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(GLPK REQUIRED_VARS GLPK_LIBRARY GLPK_INCLUDE_DIR VERSION_VAR GLPK_VERSION)
if(GLPK_FOUND AND NOT TARGET GLPK::GLPK)
  add_library(GLPK::GLPK UNKNOWN IMPORTED)
  set_target_properties(GLPK::GLPK PROPERTIES
    IMPORTED_LOCATION "${GLPK_LIBRARY}" INTERFACE_INCLUDE_DIRECTORIES "${GLPK_INCLUDE_DIR}")
endif()
