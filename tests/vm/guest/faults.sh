# Faults in mid-over, on real wires. A row: speech keys the station, the fault falls, and some
# seconds later the cause is gone; speech has to key it again.
keyed_gpio() { [ "$(gpio_level 3)" = 1 ]; }
# RTS is bit 1 of the modem control register of the first serial port.
keyed_serial() { [ $(($(dd if=/dev/port bs=1 skip=$((0x3fc)) count=1 2>/dev/null | od -An -tu1) & 2)) -ne 0 ]; }
keyed_dongle() { tail -n 1 /share/dongle.log | awk '{ on = $4 == "04" } END { exit !on }'; }
speak() {
    /shack/shack_player plughw:0,0 /shack/scene.flac 20 11 20 >/dev/null 2>&1 &
    speaker=$!
}
be_quiet() {
    kill "$speaker" 2>/dev/null
    wait "$speaker" 2>/dev/null
}

# row NAME WIRE FAULT CURE
row() {
    speak
    if wait_for 30 "keyed_$2"; then
        sleep 0.2
        mark "fault $1 $2"
        $3
        sleep 6
        mark "cure $1"
        $4
        kill -0 "$speaker" 2>/dev/null || speak
        wait_for 40 "keyed_$2" && mark "again $1"
    else
        mark "never-keyed $1"
    fi
    be_quiet
    sleep 4
}

nothing() { :; }
kill_daemon() { kill -KILL "$(daemon_pid)"; }
stop_daemon() { kill -STOP "$(daemon_pid)"; }
kill_guard() { kill -KILL "$(guard_pid)"; }
kill_both() { kill -KILL "$(daemon_pid)" "$(guard_pid)"; }
unbind_card() { echo snd_aloop.0 >/sys/bus/platform/drivers/snd_aloop/unbind; }
bind_card() {
    be_quiet
    echo snd_aloop.0 >/sys/bus/platform/drivers/snd_aloop/bind
    sleep 1
}
stop_service() { systemctl stop triplined; }
start_service() { systemctl start triplined; }

# taken NAME WIRE KIND PATH [LINE]: the wire belongs to another program when the service starts.
taken() {
    local name=$1 wire=$2 holder
    shift 2
    systemctl stop triplined
    /shack/shack_hold "$@" &
    holder=$!
    sleep 1
    speak
    mark "taken $name"
    timeout 30 systemctl start triplined
    sleep 8
    mark "freed $name"
    journalctl -u triplined -o cat --no-pager -n 8 >"/share/taken-$name.journal"
    kill $holder
    be_quiet
    speak
    systemctl reset-failed triplined
    timeout 30 systemctl start triplined
    wait_for 40 "keyed_$wire" && mark "again $name"
    be_quiet
    sleep 4
}

has_gpio() { grep -qw gpio /share/wires; }

use_config key-on-serial
row daemon-killed serial kill_daemon nothing
row daemon-stopped serial stop_daemon nothing
row guard-killed serial kill_guard nothing
row both-killed serial kill_both nothing
row sound-card-unbound serial unbind_card bind_card
row dongle-unplugged serial unplug_dongle plug_dongle
row service-stopped serial stop_service start_service
taken serial-port serial serial /dev/ttyS0
use_config key-on-dongle
row both-killed-dongle dongle kill_both nothing
if has_gpio; then
    use_config key-on-gpio
    row both-killed-gpio gpio kill_both nothing
    taken gpio-line gpio gpio /dev/gpiochip0 3
fi
