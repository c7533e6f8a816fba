#!/bin/bash
# disk.sh KERNEL PACKAGE HELPERS OUT: the guest's disk: a bare Debian with systemd, what PACKAGE depends on
# (not the package: the guest installs that itself), the modules of the virtual station, guest/, and the programs
# in HELPERS.
. "$(dirname "$0")/common.sh"

kernel=$1 package=$2 helpers=$3 out=$4 version=$(cat "$1/version")
bare=$cache/bare-$(suite).tar
room=$work/root

bare_system() {
    local folder=$work/bare
    rm -rf "$folder"
    debootstrap --variant=minbase --include=systemd-sysv,udev,kmod "$(suite)" "$folder" "$(archive)" >"$work/debootstrap.log" 2>&1 ||
        give_up "debootstrap failed, see ${work#"$top"/}/debootstrap.log"
    rm -rf "$folder"/var/cache/apt/archives/*.deb
    tar -C "$folder" -cf "$bare.new" .
    mv "$bare.new" "$bare"
    rm -rf "$folder"
}

dependencies() {
    dpkg-deb -f "$package" Depends | tr ',' '\n' | sed 's/|.*//; s/(.*//; s/ //g' | sort -u
}

install_dependencies() {
    cp /etc/apt/apt.conf.d/*registry* "$room/etc/apt/apt.conf.d/" 2>/dev/null || true
    mapfile -t wanted < <(dependencies)
    chroot "$room" env DEBIAN_FRONTEND=noninteractive sh -c \
        'apt-get -q update && apt-get -q -y --no-install-recommends install "$@" && apt-get clean' sh "${wanted[@]}" \
        >"$work/dependencies.log" 2>&1 || give_up "the package's dependencies do not install, see ${work#"$top"/}/dependencies.log"
}

copy_modules() {
    local module path
    for module in "${disk_modules[@]}" "${station_modules[@]}"; do
        modprobe -d "$kernel" -S "$version" --show-depends "$module" | awk '$1 == "insmod" { print $2 }'
    done | sort -u | while read -r path; do
        mkdir -p "$room/usr/lib/modules/$version/$(dirname "${path##*/modules/"$version"/}")"
        cp "$path" "$room/usr/lib/modules/$version/${path##*/modules/"$version"/}"
    done
    cp "$kernel/usr/lib/modules/$version"/modules.{builtin,order}* "$room/usr/lib/modules/$version/" 2>/dev/null || true
    chroot "$room" depmod "$version"
}

[ -f "$bare" ] || bare_system
rm -rf "$room" && mkdir -p "$room"
tar -C "$room" -xf "$bare"
install_dependencies
copy_modules
mkdir -p "$room/share" "$room/shack"
cp -r "$vm/guest/." "$room/shack/"
cp "$package" "$room/shack/tripline.deb"
cp "$scene" "$room/shack/scene.flac"
for helper in "$helpers"/shack_*; do
    if [ -x "$helper" ] && [ -f "$helper" ]; then cp "$helper" "$room/shack/"; fi
done
cp "$room/shack/shack.service" "$room/etc/systemd/system/"
ln -sf ../shack.service "$room/etc/systemd/system/multi-user.target.wants/shack.service"
echo shack >"$room/etc/hostname"
rm -f "$out"
mkfs.ext4 -q -F -L shack -O ^has_journal -d "$room" "$out" 1500M
rm -rf "$room"
