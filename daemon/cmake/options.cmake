# Flags of every target. No -ffast-math anywhere: a NaN must stay a NaN to be caught.
add_compile_options(-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror=return-type)
# Same bits on every build: no contraction into fused multiply-add.
add_compile_options(-ffp-contract=off)

if(TRIPLINE_SANITIZE STREQUAL "address")
    add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
    add_link_options(-fsanitize=address,undefined)
elseif(TRIPLINE_SANITIZE STREQUAL "thread")
    add_compile_options(-fsanitize=thread -fno-omit-frame-pointer)
    add_link_options(-fsanitize=thread)
elseif(TRIPLINE_SANITIZE)
    message(FATAL_ERROR "TRIPLINE_SANITIZE is address, thread or empty, not '${TRIPLINE_SANITIZE}'")
endif()

if(TRIPLINE_FUZZ)
    add_compile_options(-fsanitize=fuzzer-no-link)
endif()
