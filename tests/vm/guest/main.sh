# Runs in the guest as root, and leaves what it saw under /share. Judging that is the host's part.
mount_share() { mount -t 9p -o trans=virtio,version=9p2000.L,msize=512000,cache=none share /share; }
mount_share || exit 1
exec >/share/guest.log 2>&1
cd /shack
. ./common.sh
. ./wires.sh

finish() {
    cat $tracing/trace >/share/trace.log
    cp $dongle_log /share/
    journalctl -b -o short-monotonic --no-pager >/share/journal.log
    sync
}
trap finish EXIT

make_gpio
start_trace
for part in $(cat /share/parts); do
    mark "part $part"
    . "./$part.sh"
    journalctl -b -o short-monotonic --no-pager >/share/journal.log
done
mark "part end"
