#!/bin/bash
# trixie.sh: builds everything and runs the quick tests in a Debian 13 root of its own, against the
# libraries of that release (libgpiod 2, newer spdlog and toml++). Needs root. The root is kept in
# the cache, the build under build/trixie. Ends as `./bootstrap quick` does.
. "$(dirname "$0")/common.sh"

root=$cache/root-trixie
[ "$(id -u)" -eq 0 ] || give_up "a root folder of another release is made and entered as root"

if [ ! -d "$root" ]; then
    say "Debian 13 root"
    rm -rf "$root.new"
    debootstrap --variant=minbase trixie "$root.new" "$(archive)" >"$work/debootstrap-trixie.log" 2>&1 ||
        give_up "debootstrap failed, see ${work#"$top"/}/debootstrap-trixie.log"
    mv "$root.new" "$root"
fi
share_apt_settings "$root"
mkdir -p "$root/tripline"

# The mounts live in a name space of their own and end with it.
export top root
exec unshare --mount bash -euc '
    mount --rbind /proc "$root/proc"
    mount --rbind /sys "$root/sys"
    mount --rbind /dev "$root/dev"
    mount --bind "$top" "$root/tripline"
    exec chroot "$root" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8 \
        /tripline/bootstrap quick trixie'
