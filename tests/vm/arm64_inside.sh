#!/bin/bash
# arm64_inside.sh STEP PACKAGE...: runs in the root that arm64.sh makes: installs, cross-builds, and then
#   package   runs unit tests, makes the package and runs its programs, all under qemu's emulation of the processor;
#   count     counts the instructions of a second of sound.
set -euo pipefail
cd "$(dirname "$0")/../.."
step=$1
shift
build=build/arm64
tests=(test_dsp test_station config_tests test_lines test_guard)
emulator=qemu-aarch64-static

# build TARGET...
build() { nice cmake --build $build --target "$@"; }

unit_tests() {
    local test
    build "${tests[@]}"
    for test in "${tests[@]}"; do
        printf '\n%s, by %s\n' "$test" "$($emulator --version | head -n 1)"
        timeout --kill-after=10 900 $emulator "$(find $build/tests -name "$test" -type f)" --gtest_brief=1
    done
}

make_package() {
    build tripline triplined tripline-guard packed_pages
    rm -f $build/*.deb
    (cd $build && cpack)
    package=$(ls $build/tripline_*_arm64.deb)
    [ "$(dpkg-deb -f "$package" Architecture)" = arm64 ]
    dpkg-deb -I "$package"
    dpkg-deb -c "$package"
}

# What the package holds starts, accepts its own examples, and hears the shipped recording as the golden record says.
run_programs() {
    local room=$build/unpacked example
    rm -rf $room
    dpkg-deb -x "$package" $room
    $emulator $room/usr/bin/tripline --version
    $emulator $room/usr/sbin/triplined --version
    for example in $room/usr/share/doc/tripline/examples/*.toml; do
        $emulator $room/usr/bin/tripline config check "$example"
    done
    $emulator $room/usr/bin/tripline replay testdata/evening.flac --labels testdata/evening.rttm --events $build/evening.events.jsonl
    cmp $build/evening.events.jsonl testdata/evening.events.jsonl
    echo "the shipped recording: the same events as on record"
}

if ! dpkg-query -W "$@" qemu-user-static qemu-user dpkg-dev file >/dev/null 2>&1; then
    apt-get -q update
    apt-get -q -y --no-install-recommends install "$@" qemu-user-static qemu-user dpkg-dev file
fi
launcher=()
if command -v ccache >/dev/null; then
    launcher=(-DCMAKE_C_COMPILER_LAUNCHER=ccache -DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
fi
cmake -G Ninja -S . -B $build -DCMAKE_BUILD_TYPE=Release -DCMAKE_INSTALL_PREFIX=/usr -DBUILD_TESTING=ON \
    -DCMAKE_TOOLCHAIN_FILE="$PWD/tests/vm/arm64.cmake" "${launcher[@]}"
case $step in
    package)
        unit_tests
        make_package
        run_programs
        ;;
    count)
        build bench_seconds
        tests/bench/count_instructions.sh qemu-aarch64 $build/tests/bench/bench_seconds
        ;;
esac
