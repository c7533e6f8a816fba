# Manual pages and completions, written by write_pages from the tables that --help and the checks
# come from; the pages are packed here.
set(pages_folder ${CMAKE_BINARY_DIR}/pages)
set(packed)
foreach(page tripline.1 triplined.8 tripline.toml.5)
    set(out ${CMAKE_CURRENT_BINARY_DIR}/${page}.gz)
    add_custom_command(OUTPUT ${out} DEPENDS pages ${pages_folder}/${page}
        COMMAND gzip -9nc ${pages_folder}/${page} > ${out} VERBATIM)
    list(APPEND packed ${out})
    string(REGEX REPLACE "^.*[.]" "" section ${page})
    install(FILES ${out} DESTINATION ${CMAKE_INSTALL_MANDIR}/man${section})
endforeach()
add_custom_target(packed_pages ALL DEPENDS ${packed})

install(FILES ${pages_folder}/tripline.bash DESTINATION share/bash-completion/completions RENAME tripline)
install(FILES ${pages_folder}/tripline.bash
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME triplined)
install(FILES ${pages_folder}/_tripline DESTINATION share/zsh/vendor-completions)
install(FILES ${pages_folder}/tripline.fish DESTINATION share/fish/vendor_completions.d)
