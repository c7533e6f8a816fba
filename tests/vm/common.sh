# Read by the scripts of this folder: where things are kept and how packages are fetched.
set -euo pipefail

vm=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
top=$(cd "$vm/../.." && pwd)
work=$top/build/shack
cache=${TRIPLINE_SHACK_CACHE:-${XDG_CACHE_HOME:-${HOME:-/var}/.cache}/tripline-shack}
scene=$top/testdata/evening.flac  # operator on channel 1, receiver on channel 2
mkdir -p "$work" "$cache"

say() { printf '%s\n' "$*"; }
give_up() {
    printf 'shack: %s\n' "$*" >&2
    exit 1
}

# The archive this machine takes its own packages from.
archive() {
    local found
    found=$(apt-get indextargets --format '$(REPO_URI) $(RELEASE)' |
        awk -v suite="$(suite)" '$2 == suite { print $1; exit }')
    [ -n "$found" ] || give_up "apt knows no archive of $(suite)"
    printf '%s\n' "$found"
}

suite() { (. /etc/os-release && printf '%s\n' "$VERSION_CODENAME"); }

# How this machine reaches its archive, for the apt of a root folder.
share_apt_settings() {
    grep -lE '^ *Acquire' /etc/apt/apt.conf.d/* 2>/dev/null | xargs -r cp -t "$1/etc/apt/apt.conf.d/"
    cp -L /etc/resolv.conf "$1/etc/resolv.conf"
}

# bare_debian SUITE FOLDER [debootstrap options...]: a Debian with nothing but apt.
bare_debian() {
    local log=$work/debootstrap-${2##*/}.log
    debootstrap --variant=minbase "${@:3}" "$1" "$2" "$(archive)" >"$log" 2>&1 ||
        give_up "debootstrap failed, see ${log#"$top"/}"
}

# Modules that the guest needs: its disk and share, and the wires of the virtual station.
disk_modules=(virtio_pci virtio_blk virtio_console ext4 9pnet_virtio 9p)
station_modules=(gpio-sim snd-aloop uhid hid-generic)
