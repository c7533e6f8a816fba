#!/bin/bash
# machine.sh KERNEL INITRAMFS DISK SHARE SECONDS: runs the guest until it powers off. Its console goes
# to SHARE/console.log, each write to the serial port's registers, with the time, to SHARE/serial.log.
# The guest's clock runs on while the emulator waits for a core, so it goes before ordinary work where that is
# permitted. A plain processor: newer ones' wide registers cost an emulator more at every change of thread. Should a
# sleeping guest have missed its own alarm, the monitor wakes it; one that is awake takes no notice.
. "$(dirname "$0")/common.sh"

kernel=$1 initramfs=$2 disk=$3 share=$4 seconds=$5
image=$(find "$kernel/boot" -name 'vmlinuz*' -type f | head -n 1)
[ -n "$image" ] || give_up "no kernel image under $kernel"
first=()
if chrt -r 1 true 2>/dev/null; then first=(chrt -r 1); fi
exec timeout -k 5 "$seconds" "${first[@]}" qemu-system-x86_64 -M q35 -accel tcg,thread=multi,tb-size=256 \
    -cpu "${SHACK_CPU:-Nehalem}" -smp 2 -m 1024 \
    -nodefaults -no-user-config -display none -no-reboot -rtc base=utc -nic none \
    -kernel "$image" -initrd "$initramfs" \
    -append "console=hvc0 quiet mitigations=off nokaslr panic=-1 tsc=reliable no_timer_check nowatchdog apparmor=0 audit=0" \
    -chardev file,id=console,path="$share/console.log" -device virtio-serial-pci -device virtconsole,chardev=console \
    -chardev null,id=port -device isa-serial,chardev=port \
    -drive file="$disk",format=raw,if=virtio,snapshot=on,cache=unsafe \
    -virtfs local,path="$share",mount_tag=share,security_model=none \
    -msg timestamp=on -d trace:serial_write -D "$share/serial.log" \
    -monitor stdio < <(while sleep 10 && echo system_wakeup; do :; done) >/dev/null
