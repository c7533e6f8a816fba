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

newest_version() {
    private apt-cache show linux-image-amd64 | sed -n 's/^Depends:.*linux-image-\([0-9][^ ,]*-amd64\).*/\1/p' | sort -V | tail -n 1
}

fetch() {
    local version=$1 part
    local parts=(linux-image-"$version")
    for part in linux-base linux-binary linux-modules; do
        if private apt-cache show "$part-$version" >/dev/null 2>&1; then parts+=("$part-$version"); fi
    done
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
    [ -n "$version" ] || give_up "trixie-backports has no linux-image-amd64"
    fetch "$version"
    unpack "$version"
fi
version=$(cat "$kernel/version")
modinfo -b "$kernel" -k "$version" -F filename gpio-sim >/dev/null 2>&1 || give_up "kernel $version has no gpio-sim"
printf '%s\n' "$kernel"
