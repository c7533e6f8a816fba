# Read by the scripts that build in a Debian root of their own: how such a root is made and entered. Needs root.
. "$(dirname "${BASH_SOURCE[0]}")/common.sh"

# make_root NAME SUITE: leaves in $root a bare Debian of that name in the cache, made if it is not there.
make_root() {
    root=$cache/$1
    [ "$(id -u)" -eq 0 ] || give_up "a root folder of another system is made and entered as root"
    if [ ! -d "$root" ]; then
        say "$1: a bare Debian $2"
        rm -rf "$root.new"
        bare_debian "$2" "$root.new"
        mv "$root.new" "$root"
    fi
    share_apt_settings "$root"
    mkdir -p "$root/tripline"
}

# enter_root COMMAND...: ends as COMMAND, run in $root with this tree at /tripline. The mounts live in a name space of
# their own and end with it.
enter_root() {
    export top root
    exec unshare --mount bash -euc '
        mount --rbind /proc "$root/proc"
        mount --rbind /sys "$root/sys"
        mount --rbind /dev "$root/dev"
        mount --bind "$top" "$root/tripline"
        exec chroot "$root" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8 \
            DEBIAN_FRONTEND=noninteractive "$@"' enter_root "$@"
}
