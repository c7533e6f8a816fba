#!/bin/bash
# count_instructions.sh EMULATOR PROGRAM: how many instructions of its processor the detector executes for a second
# of the shipped recording, brought to 48 kHz. PROGRAM is bench_seconds; EMULATOR (qemu-x86_64, qemu-aarch64) runs it
# and counts. The difference between two lengths is taken, so that reading and resampling don't count.
set -euo pipefail
cd "$(dirname "$0")/../.."
emulator=$1 program=$2
counter=build/instruction_counter.so
rate=48000 from=25 to=50  # seconds; the operator speaks in both halves

if ! "$emulator" --help | grep -q -- '-plugin '; then
    echo "$("$emulator" --version | head -n 1) loads no plugins; that of Debian 12 does" >&2
    exit 1
fi
# One counter serves every emulator of this qemu. The root for ARM has no compiler of this machine's and finds it made.
if command -v c++ >/dev/null; then
    c++ -std=c++20 -O2 -Wall -Wextra -shared -fPIC -fvisibility=hidden tests/bench/instruction_counter.cpp -o $counter
fi

# instructions METHOD SECONDS
instructions() {
    "$emulator" -cpu max -plugin $counter -d plugin "$program" testdata/evening.flac $rate "$1" "$2" 2>&1 >/dev/null |
        sed -n 's/ instructions$//p'
}

for method in envelope echo; do
    first=$(instructions $method $from)
    both=$(instructions $method $to)
    awk -v emulator="$emulator" -v method=$method -v n=$(((both - first) / (to - from))) 'BEGIN {
        printf "%-13s %-9s %6.2f million instructions a second of sound\n", emulator, method, n / 1e6 }'
done
