#!/bin/bash
# arm64.sh STEP PACKAGE...: in a root folder with packages of 64-bit ARM, the build packages named among them, goes
# through STEP of arm64_inside.sh. Needs root. The root is kept in the cache, the build under build/arm64.
. "$(dirname "$0")/roots.sh"

step=$1
shift
make_root "root-arm64-$(suite)" "$(suite)"
chroot "$root" dpkg --add-architecture arm64

# What programs are linked with is of the other architecture; tools, and what has none, are of this one.
of_architecture() {
    local package
    for package in "$@"; do
        case $package in
            build-essential) echo crossbuild-essential-arm64 ;;
            *-dev) if apt-cache show "$package" | grep -q '^Architecture: all'; then echo "$package"; else echo "$package:arm64"; fi ;;
            *) echo "$package" ;;
        esac
    done
}
mapfile -t wanted < <(of_architecture "$@")

enter_root /bin/bash /tripline/tests/vm/arm64_inside.sh "$step" "${wanted[@]}"
