#!/bin/bash
# disk.sh KERNEL PACKAGE HELPERS OUT: the guest's disk: a bare Debian with systemd, what PACKAGE depends on
# (not the package: the guest installs that itself), the modules of the virtual station, guest/, and the programs
# in HELPERS.
. "$(dirname "$0")/common.sh"

kernel=$1 package=$2 helpers=$3 out=$4 version=$(cat "$1/version")
room=$work/root

dependencies() { { dpkg-deb -f "$package" Pre-Depends; dpkg-deb -f "$package" Depends; } | tr ',' '\n' | sed 's/|.*//; s/(.*//; s/ //g' | sort -u; }

# What the guest needs beside them: logind has it sleep, by the bus.
beside=(systemd-sysv udev kmod dbus)

# A bare system with the dependencies, kept for as long as they are the same.
bare=$cache/bare-$(suite)-$({ dependencies; echo "${beside[@]}"; } | sha256sum | cut -c1-12).tar
bare_system() {
    local folder=$work/bare
    mapfile -t wanted < <(dependencies)
    rm -rf "$folder"
    bare_debian "$(suite)" "$folder" "--include=$(IFS=,; echo "${beside[*]}")"
    share_apt_settings "$folder"
    chroot "$folder" env DEBIAN_FRONTEND=noninteractive sh -c \
        'apt-get -q update && apt-get -q -y --no-install-recommends install "$@" && apt-get clean' sh "${wanted[@]}" \
        >"$work/dependencies.log" 2>&1 || give_up "the package's dependencies do not install, see ${work#"$top"/}/dependencies.log"
    rm -rf "$folder"/var/cache/apt/archives/*.deb "$folder"/var/lib/apt/lists/* "$folder"/usr/share/{doc,man,locale,info}/*
    tar -C "$folder" -cf "$bare.new" .
    mv "$bare.new" "$bare"
    rm -rf "$folder"
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
    depmod -b "$room" "$version"
}

# Nothing but the package under test starts, and a program that dies leaves no dump: emulated, each costs seconds.
quieten() {
    local unit
    for unit in apt-daily.timer apt-daily-upgrade.timer dpkg-db-backup.timer fstrim.timer e2scrub_all.timer \
        e2scrub_reap.service systemd-tmpfiles-clean.timer getty@tty1.service serial-getty@hvc0.service \
        systemd-update-utmp.service systemd-update-utmp-runlevel.service; do
        ln -sf /dev/null "$room/etc/systemd/system/$unit"
    done
}

[ -f "$bare" ] || bare_system
rm -rf "$room" && mkdir -p "$room"
tar -C "$room" -xf "$bare"
copy_modules
quieten
mkdir -p "$room/share" "$room/shack"
cp -r "$vm/guest/." "$room/shack/"
cp "$package" "$room/shack/tripline.deb"
cp "$scene" "$room/shack/scene.flac"
for helper in "$helpers"/shack_*; do
    if [ -x "$helper" ] && [ -f "$helper" ]; then cp "$helper" "$room/shack/"; fi
done
cp "$room/shack/shack.service" "$room/etc/systemd/system/"
mkdir -p "$room/etc/systemd/system/multi-user.target.wants"
ln -sf ../shack.service "$room/etc/systemd/system/multi-user.target.wants/shack.service"
echo shack >"$room/etc/hostname"
rm -f "$out"
mkfs.ext4 -q -F -L shack -O ^has_journal -d "$room" "$out" 1000M >/dev/null
rm -rf "$room"
