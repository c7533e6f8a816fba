# The Debian package. The dependencies on libraries are read off the programs.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME tripline)
set(CPACK_PACKAGE_VENDOR "The Tripline developers")
set(CPACK_PACKAGE_CONTACT "The Tripline developers <developers@tripline.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGE_DESCRIPTION
"Tripline listens to the operator's microphone and to the receiver, decides when
the operator speaks, and switches the station over in order: receiver muted,
antenna relay moved, transmitter keyed, and back. Whatever fails, a small process
of its own opens the key.
Includes the daemon, the operator's tool and the manual.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL OFF)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION hamradio)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_PREDEPENDS "adduser")
set(CPACK_DEBIAN_PACKAGE_DEPENDS "init-system-helpers")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "systemd, udev")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
    ${CMAKE_CURRENT_LIST_DIR}/preinst
    ${CMAKE_CURRENT_LIST_DIR}/postinst
    ${CMAKE_CURRENT_LIST_DIR}/prerm
    ${CMAKE_CURRENT_LIST_DIR}/postrm
    ${CMAKE_CURRENT_LIST_DIR}/conffiles)
include(CPack)
