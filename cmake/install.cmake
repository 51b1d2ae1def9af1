# What `cmake --install` puts where, and the .deb that cpack makes of it (scripts/package makes it, and one tar with
# every package it needs).
include(GNUInstallDirs)

install(TARGETS seatwright RUNTIME)
install(DIRECTORY examples shop DESTINATION ${CMAKE_INSTALL_DATADIR}/seatwright)
install(CODE "execute_process(COMMAND \"${CMAKE_BINARY_DIR}/seatwright\" --manual
    OUTPUT_FILE \"${CMAKE_BINARY_DIR}/seatwright.1\" COMMAND_ERROR_IS_FATAL ANY)")
install(FILES ${CMAKE_BINARY_DIR}/seatwright.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES packaging/seatwright.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
    RENAME seatwright)
install(FILES packaging/seatwright.service DESTINATION lib/systemd/system)
# What a shop adds to it where it sends programs or has gauges (docs/install.md).
install(FILES packaging/serial-lines.conf packaging/folders.conf DESTINATION ${CMAKE_INSTALL_DATADIR}/seatwright/service)
install(FILES packaging/debian/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CMAKE_SKIP_INSTALL_ALL_DEPENDENCY ON)  # the tests are no part of it
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME seatwright)
set(CPACK_PACKAGE_VENDOR Seatwright)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "valve-seat machining worked out beforehand, and proven afterwards")
set(CPACK_PACKAGE_DESCRIPTION
    "How to hold a cylinder head, where every guide is, the section and depth of each valve seat, cutting data, checked
programs, verdicts with their uncertainty; on the command line and as a workbench in the browser.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_MAINTAINER "Seatwright <root@localhost>")
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# What the program opens by itself when it draws a page, and what the maintainer scripts call.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "adduser, cracklib-runtime, fonts-dejavu-core, libcairo2, libicu72, librsvg2-2")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
    "${CMAKE_SOURCE_DIR}/packaging/debian/postinst;${CMAKE_SOURCE_DIR}/packaging/debian/prerm"
    "${CMAKE_SOURCE_DIR}/packaging/debian/postrm")
include(CPack)
