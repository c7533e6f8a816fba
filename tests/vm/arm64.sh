#!/bin/bash
# arm64.sh PACKAGE...: cross-builds the Debian package for 64-bit ARM in a root folder of its own, with the build
# packages named, and runs unit tests under qemu's emulation of that processor. Needs root. The root is
# kept in the cache, the build under build/arm64.
. "$(dirname "$0")/common.sh"

root=$cache/root-arm64-$(suite)
[ "$(id -u)" -eq 0 ] || give_up "a root folder with another architecture's packages is made and entered as root"

if [ ! -d "$root" ]; then
    say "root with arm64 packages"
    rm -rf "$root.new"
    debootstrap --variant=minbase "$(suite)" "$root.new" "$(archive)" >"$work/debootstrap-arm64.log" 2>&1 ||
        give_up "debootstrap failed, see ${work#"$top"/}/debootstrap-arm64.log"
    chroot "$root.new" dpkg --add-architecture arm64
    mv "$root.new" "$root"
fi
share_apt_settings "$root"
mkdir -p "$root/tripline"

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
mapfile -t wanted < <(of_architecture "$@" libgtest-dev libbenchmark-dev libsamplerate0-dev libspeexdsp-dev)

export top root
exec unshare --mount bash -euc '
    mount --rbind /proc "$root/proc"
    mount --rbind /sys "$root/sys"
    mount --rbind /dev "$root/dev"
    mount --bind "$top" "$root/tripline"
    exec chroot "$root" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive \
        /bin/bash /tripline/tests/vm/arm64_inside.sh "$@"' arm64 "${wanted[@]}"
