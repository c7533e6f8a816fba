# Read by the guest's scripts. Everything that happens is told in one trace, by one clock
# (CLOCK_MONOTONIC): what the kernel's drivers are asked to do to the wires, and these marks.
tracing=/sys/kernel/tracing
gpio_folder=

mark() {
    echo "shack $*" >$tracing/trace_marker
    echo "--- $*"
}

# The level of GPIO line $1 as the simulated chip's outer side sees it.
gpio_level() { cat "$gpio_folder/sim_gpio$1/value"; }

# wait_for SECONDS WORDS...: until the command succeeds.
wait_for() {
    local end=$((SECONDS + $1))
    shift
    until "$@"; do
        [ $SECONDS -lt $end ] || { mark "waited in vain: $*"; return 1; }
        sleep 0.05
    done
}

is_active() { [ "$(systemctl is-active triplined)" = active ]; }
daemon_pid() { systemctl show -P MainPID triplined; }
guard_pid() { grep -lx tripline-guard /proc/[0-9]*/comm | cut -d/ -f3; }  # not its backstop

use_config() {
    cp "/shack/config/$1.toml" /etc/tripline/tripline.toml
    chmod 644 /etc/tripline/tripline.toml
    systemctl reset-failed triplined 2>/dev/null
    systemctl restart triplined
    wait_for 20 is_active
}
