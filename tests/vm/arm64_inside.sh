#!/bin/bash
# arm64_inside.sh PACKAGE...: runs in the root that arm64.sh makes: installs, cross-builds, tests, packs.
set -euo pipefail
cd "$(dirname "$0")/../.."
build=build/arm64
tests=(test_dsp test_station test_lines test_guard)

if ! dpkg -s "$@" qemu-user-static dpkg-dev file >/dev/null 2>&1; then
    apt-get -q update
    apt-get -q -y --no-install-recommends install "$@" qemu-user-static dpkg-dev file
fi
cmake -G Ninja -S . -B $build -DCMAKE_BUILD_TYPE=Release -DCMAKE_INSTALL_PREFIX=/usr -DBUILD_TESTING=ON \
    -DCMAKE_TOOLCHAIN_FILE="$PWD/tests/vm/arm64.cmake"
nice cmake --build $build --target "${tests[@]}"
for test in "${tests[@]}"; do
    qemu-aarch64-static "$(find $build/tests -name "$test" -type f)" --gtest_brief=1
done
nice cmake --build $build --target tripline triplined tripline-guard packed_pages
(cd $build && rm -f ./*.deb && cpack)
ls $build/*_arm64.deb
