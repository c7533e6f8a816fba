# Read by the guest's scripts. Everything that happens is told in one trace, by one clock
# (CLOCK_MONOTONIC): what the kernel's drivers are asked to do to the wires, and these marks.
# Starting a program costs an emulated machine tens of milliseconds: waiting is done by the shell alone.
tracing=/sys/kernel/tracing
gpio_folder=
mkfifo /run/nothing
exec 9<>/run/nothing

mark() {
    echo "shack $*" >$tracing/trace_marker
    echo "--- $SECONDS s: $*"
}

pause() { read -rt "$1" -u 9 _; }

# wait_for SECONDS WORDS...: until the command succeeds.
wait_for() {
    local end=$((SECONDS + $1))
    shift
    until "$@"; do
        [ $SECONDS -lt $end ] || { mark "waited in vain: $*"; return 1; }
        pause 0.05
    done
    return 0
}

# Whether the wire is on: GPIO line 3 as the simulated chip's outer side sees it, RTS as the serial driver
# has set it, the dongle's last report.
keyed_gpio() {
    local level
    read -r level <"$gpio_folder/sim_gpio3/value" && [ "$level" = 1 ]
}
keyed_serial() {
    local ports
    mapfile -t ports </proc/tty/driver/serial
    [[ ${ports[1]} == *RTS* ]]
}
keyed_dongle() {
    local reports
    mapfile -t reports <"$dongle_log"
    [[ ${reports[-1]:-} == *" 00 00 04 04 00" ]]
}

pid_of() {
    local file name
    for file in /proc/[0-9]*/comm; do
        { read -r name <"$file"; } 2>/dev/null && [ "$name" = "$1" ] || continue
        file=${file%/comm}
        echo "${file##*/}"
    done
}

use_config() {
    cp "/shack/config/$1.toml" /etc/tripline/tripline.toml
    chmod 644 /etc/tripline/tripline.toml
    systemctl reset-failed triplined 2>/dev/null
    systemctl restart triplined
}

# speak, be_quiet: two overs of the recording, again and again.
player_log=/share/player.log
speak() {
    chrt -f 60 /shack/shack_player plughw:0,0 /shack/scene.flac 20 11 20 >>$player_log 2>&1 &
    speaker=$!
}
# A player whose card was taken away, or whose machine stood still, has ended.
speech_keys() {
    kill -0 "$speaker" 2>/dev/null || speak
    "keyed_$1"
}
be_quiet() {
    kill "$speaker" 2>/dev/null
    wait "$speaker" 2>/dev/null
}
