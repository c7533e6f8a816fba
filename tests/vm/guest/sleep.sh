# The machine sleeps, as logind has it, while the station is keyed: the installed service by a voice, then
# `tripline run` by force, then by a voice. No sharing outlasts the sleep, since its driver cannot sleep: it is left and joined again.
leave_share() {
    local device
    exec >/run/sleep.log 2>&1
    player_log=/run/sleep-player.log
    umount /share
    device=$(echo /sys/bus/virtio/drivers/9pnet_virtio/virtio*)
    sharing=${device##*/}
    echo "$sharing" >/sys/bus/virtio/drivers/9pnet_virtio/unbind
}
join_share() {
    echo "$sharing" >/sys/bus/virtio/drivers/9pnet_virtio/bind
    mount_share
    exec >>/share/guest.log 2>&1
    player_log=/share/player.log
    cat /run/sleep.log
    cp /run/sleep-*.* /share/
}

# The clock's alarm wakes it. systemd-suspend.service runs this last, so that the alarm cannot come too early.
hook=/usr/lib/systemd/system-sleep/wake
mkdir -p ${hook%/*}
printf '%s\n' '#!/bin/sh' '[ "$1" = pre ] || exit 0' \
    'echo 0 >/sys/class/rtc/rtc0/wakealarm' 'echo +2 >/sys/class/rtc/rtc0/wakealarm' >$hook
chmod +x $hook

slept() {
    local now
    read -r now </sys/power/suspend_stats/success
    [ "$now" != "$before" ]
}

# sleep_once NAME: from a keyed station. `woken` stands in the trace a little after the machine is awake.
sleep_once() {
    read -r before </sys/power/suspend_stats/success
    wait_for 10 "keyed_serial" || mark "never-keyed sleep $1"
    mark "sleep $1"
    systemctl suspend
    wait_for 25 slept
    be_quiet
    speak   # the player did not outlast the sleep, and what keys would be heard
    pause 1.5
    mark "woken $1"
}

station() { tripline "$@" --socket /run/sleep.sock; }
ready() { [[ $(station status) == *running* ]]; }

leave_share
use_config key-on-serial
speak
wait_for 30 speech_keys serial
sleep_once service
systemctl show triplined -p ActiveState,SubState,Result >/run/sleep-service.state
mark "commanded service"
systemctl start triplined
wait_for 40 speech_keys serial && mark "again service"
systemctl stop triplined
be_quiet

tripline run --config /etc/tripline/tripline.toml --set control.socket=/run/sleep.sock >/run/sleep-run.log 2>&1 &
foreground=$!
wait_for 30 ready
station key
systemd-inhibit --list --no-pager >/run/sleep-inhibit.list
sleep_once forced
station status >/run/sleep-forced.state
mark "commanded forced"
station arm
wait_for 40 speech_keys serial && mark "again forced"
sleep_once voice
wait_for 40 speech_keys serial && mark "again voice"
be_quiet
kill $foreground
wait $foreground
dmesg >/run/sleep-kernel.log
rm $hook
join_share
