# What `cmake --install` and `cpack` put where: the program with its manual pages and completions; the library with its headers, a
# pkg-config file and a CMake package. Two Debian packages: drawerwright, and libdrawerwright-dev for those who build on the library.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(contact "The drawerwright makers <drawerwright@example.invalid>") # a name that leads nowhere: whoever publishes packages puts theirs here

# The manual pages and completions come from the program itself (src/cli/cmd_manual.c), so that they cannot be out of step with it.
set(manual_folder "${CMAKE_CURRENT_BINARY_DIR}/manual")
set(manual_files)
function(dw_manual word file folder)
  set(out "${manual_folder}/${file}")
  add_custom_command(OUTPUT "${out}" DEPENDS drawerwright VERBATIM
    COMMAND ${CMAKE_COMMAND} -E make_directory "${manual_folder}"
    COMMAND sh -c "case \"$2\" in *.gz) \"$1\" manual ${word} | gzip -9n >\"$2\" ;; *) \"$1\" manual ${word} >\"$2\" ;; esac"
            sh "$<TARGET_FILE:drawerwright>" "${out}")
  set(manual_files ${manual_files} "${out}" PARENT_SCOPE)
  install(FILES "${out}" DESTINATION "${folder}" COMPONENT program)
endfunction()
dw_manual(program drawerwright.1.gz ${CMAKE_INSTALL_MANDIR}/man1)
dw_manual(job drawerwright-job.5.gz ${CMAKE_INSTALL_MANDIR}/man5)
dw_manual(bash drawerwright ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
dw_manual(zsh _drawerwright ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
dw_manual(fish drawerwright.fish ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
add_custom_target(manual ALL DEPENDS ${manual_files})

file(GLOB documents CONFIGURE_DEPENDS "${CMAKE_CURRENT_SOURCE_DIR}/docs/*.md" "${CMAKE_CURRENT_SOURCE_DIR}/docs/*.json")
file(GLOB samples CONFIGURE_DEPENDS "${CMAKE_CURRENT_SOURCE_DIR}/samples/*.json")
install(TARGETS drawerwright COMPONENT program)
install(FILES LICENSE README.md ${documents} DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(FILES ${samples} DESTINATION ${CMAKE_INSTALL_DOCDIR}/samples COMPONENT program)

# What every Debian package tells of itself: who may do what with it, and what is new.
set(changelog "${CMAKE_CURRENT_BINARY_DIR}/changelog")
file(CONFIGURE OUTPUT "${changelog}" CONTENT
"drawerwright (${PROJECT_VERSION}) unstable; urgency=medium

  * Version ${PROJECT_VERSION}, as the project's own history tells.

 -- ${contact}  Sun, 01 Nov 2026 12:00:00 +0000
")
add_custom_command(OUTPUT "${changelog}.gz" DEPENDS "${changelog}" VERBATIM COMMAND sh -c "gzip -9nc \"$1\" >\"$2\"" sh "${changelog}" "${changelog}.gz")
add_custom_target(changes ALL DEPENDS "${changelog}.gz")
foreach(part "drawerwright;program" "libdrawerwright-dev;library")
  list(GET part 0 package)
  list(GET part 1 component)
  install(FILES .cmake/copyright DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${package} COMPONENT ${component})
  install(FILES "${changelog}.gz" DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${package} COMPONENT ${component})
endforeach()

# Both ways to the library find everything from where they stand themselves, so an installed tree may be moved.
set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/drawerwright)
set_target_properties(drawerwright_library PROPERTIES EXPORT_NAME drawerwright)
install(TARGETS drawerwright_library EXPORT drawerwright COMPONENT library)
install(DIRECTORY include/drawerwright DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT library)
install(DIRECTORY docs/example DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT library)
install(EXPORT drawerwright NAMESPACE drawerwright:: FILE drawerwrightTargets.cmake DESTINATION ${package_folder} COMPONENT library)
configure_package_config_file(.cmake/drawerwrightConfig.cmake.in "${CMAKE_CURRENT_BINARY_DIR}/drawerwrightConfig.cmake" INSTALL_DESTINATION ${package_folder})
write_basic_package_version_file("${CMAKE_CURRENT_BINARY_DIR}/drawerwrightConfigVersion.cmake" COMPATIBILITY SameMinorVersion)
install(FILES "${CMAKE_CURRENT_BINARY_DIR}/drawerwrightConfig.cmake" "${CMAKE_CURRENT_BINARY_DIR}/drawerwrightConfigVersion.cmake" .cmake/FindGLPK.cmake
  DESTINATION ${package_folder} COMPONENT library)
file(RELATIVE_PATH pc_to_prefix "/${CMAKE_INSTALL_LIBDIR}/pkgconfig" "/")
configure_file(.cmake/drawerwright.pc.in "${CMAKE_CURRENT_BINARY_DIR}/drawerwright.pc" @ONLY)
install(FILES "${CMAKE_CURRENT_BINARY_DIR}/drawerwright.pc" DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT library)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VENDOR "drawerwright")
set(CPACK_PACKAGE_CONTACT "${contact}")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "drawer openings to cutting plan and shop packet")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME drawerwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libdrawerwright-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
  "libglpk-dev, libcjson-dev, libpango1.0-dev, libsqlite3-dev, libmicrohttpd-dev, pkg-config, fonts-dejavu-core")
set(described "Sizes drawers from the openings they go into, lists every part, lays the
parts out on sheets with a proof of how close to the least cost that is, and
prints a packet of drawings to take to the saw.\n.\n")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "${described}The program, its manual pages and completions, documents and samples.")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "${described}The library and its headers, for programs that build on it.")
include(CPack)
