# Files written by the built programs themselves, from the tables their --help and checks come from.
set(pages_folder ${CMAKE_BINARY_DIR}/pages)
install(FILES ${pages_folder}/tripline.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${pages_folder}/tripline.toml.5 DESTINATION ${CMAKE_INSTALL_MANDIR}/man5)
install(FILES ${pages_folder}/tripline.bash
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME tripline)
install(FILES ${pages_folder}/_tripline DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
install(FILES ${pages_folder}/tripline.fish
        DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
