# Faults in mid-over, on real wires. A row: speech keys the station, the fault falls, and some
# seconds later the cause is gone; speech has to key it again.

# The processes are looked up last: after a standstill of the machine they may be others.
in_mid_over() {
    speech_keys "$1" || return 1
    pause 0.3
    daemon=$(pid_of triplined) guard=$(pid_of tripline-guard) backstop=$(pid_of guard-backstop)
    "keyed_$1"
}

# row NAME WIRE FAULT CURE
row() {
    systemctl reset-failed triplined
    speak
    if wait_for 30 in_mid_over "$2"; then
        mark "fault $1 $2"
        $3
        pause 3
        mark "cure $1 $2"
        $4
        wait_for 40 speech_keys "$2" && mark "again $1 $2"
    else
        mark "never-keyed $1 $2"
    fi
    be_quiet
    pause 3
}

nothing() { :; }
kill_daemon() { kill -KILL "$daemon"; }
stop_daemon() { kill -STOP "$daemon"; }
kill_guard() { kill -KILL "$guard"; }
kill_both() { kill -KILL "$daemon" "$guard"; }
# Stopped first, so that none of them sees another die: what is left is the kernel and ExecStopPost.
kill_all() {
    kill -STOP "$guard" "$backstop" "$daemon"
    kill -KILL "$guard" "$backstop" "$daemon"
}
# Taking a card away waits until every program has closed it.
unbind_card() { echo snd_aloop.0 >/sys/bus/platform/drivers/snd_aloop/unbind & }
bind_card() {
    be_quiet
    echo snd_aloop.0 >/sys/bus/platform/drivers/snd_aloop/bind
    pause 1
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
    pause 1
    speak
    mark "taken $name"
    timeout 30 systemctl start triplined
    pause 5
    systemctl show triplined -p ActiveState,NRestarts,StatusText >"/share/taken-$name.state"
    journalctl -u triplined -o cat --no-pager -n 40 >"/share/taken-$name.journal"
    mark "freed $name"
    kill $holder
    wait_for 40 speech_keys "$wire" && mark "again $name"
    be_quiet
    pause 3
}

use_config key-on-serial
row daemon-killed serial kill_daemon nothing
row daemon-stopped serial stop_daemon nothing
row guard-killed serial kill_guard nothing
row both-killed serial kill_both nothing
row all-killed serial kill_all nothing
row sound-card-unbound serial unbind_card bind_card
row dongle-unplugged serial unplug_dongle plug_dongle
row service-stopped serial stop_service start_service
taken serial-port serial serial /dev/ttyS0
use_config key-on-dongle
row both-killed dongle kill_both nothing
row all-killed dongle kill_all nothing
use_config key-on-gpio
row both-killed gpio kill_both nothing
row all-killed gpio kill_all nothing
taken gpio-line gpio gpio /dev/gpiochip0 3
