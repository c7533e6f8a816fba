#!/bin/bash
# kernel.sh: fetches a Debian kernel that has gpio-sim as a module (Debian 12 and 13's own have
# not) from trixie-backports and unpacks it under the cache. Prints its folder. The machine's own
# apt sources are left alone: the lists of the other suite live in a private state folder.
. "$(dirname "$0")/common.sh"

state=$cache/apt
kernel=$cache/kernel

private() {
    "$1" -q -o Dir::State="$state" -o Dir::State::status="$state/status" -o Dir::Cache="$state/cache" \
        -o Dir::Etc::sourcelist="$state/sources.list" -o Dir::Etc::sourceparts=- "${@:2}"
}

read_lists() {
    mkdir -p "$state/lists/partial" "$state/cache/archives/partial"
    : >"$state/status"
    printf 'deb [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] %s trixie-backports main\n' \
        "$(archive)" >"$state/sources.list"
    private apt-get update >&2 || give_up "the lists of trixie-backports cannot be fetched"
}

versions() {
    private apt-cache pkgnames linux-image- |
        sed -n "s/^linux-image-\([0-9]*\.[0-9.]*+deb13-amd64\)\$/\1/p" | sort -rV
}

# The packages that make up a kernel: the image, and parts of it that newer ones keep apart.
parts_of() {
    echo "linux-image-$1"
    private apt-cache show "linux-image-$1" | sed -n 's/^Depends://p' | tr ',' '\n' |
        sed -n "s/^ *\(linux-[a-z]*-$1\) .*/\1/p"
}

# The archive keeps some parts longer than others.
is_whole() {
    local part
    for part in $(parts_of "$1"); do
        private apt-cache show "$part" 2>/dev/null | grep -q '^Package:' || return 1
    done
}

newest_version() {
    local version
    for version in $(versions); do
        if is_whole "$version"; then
            echo "$version"
            return
        fi
    done
}

fetch() {
    mapfile -t parts < <(parts_of "$1")
    (cd "$state" && rm -f -- *.deb && private apt-get download "${parts[@]}" >&2) || give_up "cannot fetch ${parts[*]}"
}

unpack() {
    local package
    rm -rf "$kernel.new"
    for package in "$state"/*.deb; do dpkg-deb -x "$package" "$kernel.new"; done
    mkdir -p "$kernel.new/usr/lib"
    if [ -d "$kernel.new/lib/modules" ]; then mv "$kernel.new/lib/modules" "$kernel.new/usr/lib/"; fi
    rm -rf "$kernel.new/lib"
    ln -s usr/lib "$kernel.new/lib"
    depmod -b "$kernel.new" "$1"
    printf '%s\n' "$1" >"$kernel.new/version"
    rm -f "$state"/*.deb
    rm -rf "$kernel" && mv "$kernel.new" "$kernel"
}

if [ ! -f "$kernel/version" ]; then
    read_lists
    version=$(newest_version)
    [ -n "$version" ] || give_up "trixie-backports has no whole kernel"
    fetch "$version"
    unpack "$version"
fi
version=$(cat "$kernel/version")
modinfo -b "$kernel" -k "$version" -F filename gpio-sim >/dev/null 2>&1 || give_up "kernel $version has no gpio-sim"
printf '%s\n' "$kernel"
