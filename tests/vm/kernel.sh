#!/bin/bash
# kernel.sh: fetches this release's own kernel by apt and unpacks it under the cache, installing nothing.
# Debian builds it without gpio-sim, so that module is made here from the kernel's own source, with
# what it needs of the kernel's irq_sim.c. Prints the folder.
. "$(dirname "$0")/common.sh"

kernel=$cache/kernel-$(suite)
room=$work/kernel-packages

# The version of the package that names the newest kernel, and that kernel's name.
candidate() { apt-cache policy linux-image-amd64 | sed -n 's/^ *Candidate: //p'; }
release_of() { apt-cache show "linux-image-amd64=$1" | sed -n 's/^Depends: linux-image-\([^ ]*\).*/\1/p'; }
series_of() { sed 's/^\([0-9]*\.[0-9]*\)\..*/\1/' <<<"$1"; }

# fetch VERSION RELEASE
fetch() {
    local headers=linux-headers-$2 kbuild
    kbuild=$(apt-cache show "$headers=$1" | sed -n 's/^Depends://p' | tr ',' '\n' | sed -n 's/^ *\(linux-kbuild-[^ ]*\).*/\1/p')
    rm -rf "$room" && mkdir -p "$room"
    (cd "$room" && apt-get -q download "linux-image-$2=$1" "$headers=$1" "${headers%-amd64}-common=$1" \
        "$kbuild=$1" "linux-source-$(series_of "$1")=$1" >&2) || give_up "cannot fetch kernel $1 by apt"
}

unpack() {
    local package
    rm -rf "$kernel.new"
    for package in "$room"/linux-{image,headers,kbuild}*.deb; do dpkg-deb -x "$package" "$kernel.new"; done
    mkdir -p "$kernel.new/usr/lib"
    if [ -d "$kernel.new/lib/modules" ]; then mv "$kernel.new/lib/modules" "$kernel.new/usr/lib/"; fi
    rm -rf "$kernel.new/lib"
    ln -s usr/lib "$kernel.new/lib"
}

# make_modules VERSION RELEASE: irq_sim.c is meant to be built in: as a module it lacks a licence, and one
# function, which is not exported, in the delivery of an interrupt; no line of the station's interrupts. Type
# descriptions for BPF are left out: they need one more tool.
make_modules() {
    local source=linux-source-$(series_of "$1") modules=$room/modules headers=$kernel.new/usr/src/linux-headers-$2
    mkdir -p "$modules"
    dpkg-deb --fsys-tarfile "$room/$source"_*.deb | tar -xO "./usr/src/$source.tar.xz" |
        tar -xJ -C "$modules" --strip-components=3 --wildcards "$source"/drivers/gpio/{gpio-sim.c,'*.h'} "$source/kernel/irq/irq_sim.c"
    sed -i -e 's/handle_simple_irq(irq_to_desc(\(.*\)));/generic_handle_irq(\1);/' \
        -e '1a #include <linux/module.h>\nMODULE_LICENSE("GPL");' "$modules/irq_sim.c"
    echo 'obj-m := gpio-sim.o irq_sim.o' >"$modules/Makefile"
    sed -i "s# /usr/src# $kernel.new/usr/src#" "$headers/Makefile"
    make -C "$headers" "M=$modules" CONFIG_DEBUG_INFO_BTF_MODULES= modules >"$room/modules.log" 2>&1 ||
        give_up "gpio-sim of kernel $1 does not build, see ${room#"$top"/}/modules.log"
    mkdir -p "$kernel.new/usr/lib/modules/$2/extra"
    cp "$modules"/*.ko "$kernel.new/usr/lib/modules/$2/extra/"
}

if [ ! -f "$kernel/version" ]; then
    version=$(candidate)
    release=$(release_of "$version")
    [ -n "$release" ] || give_up "apt knows no linux-image-amd64"
    fetch "$version" "$release"
    unpack
    make_modules "$version" "$release"
    rm -rf "$kernel.new/usr/src"
    depmod -b "$kernel.new" "$release"
    printf '%s\n' "$release" >"$kernel.new/version"
    rm -rf "$kernel" "$room" && mv "$kernel.new" "$kernel"
fi
printf '%s\n' "$kernel"
