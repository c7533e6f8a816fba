#!/bin/bash
# initramfs.sh KERNEL OUT: a static busybox and the modules of the disk; it mounts the disk and hands over.
. "$(dirname "$0")/common.sh"

kernel=$1 out=$2 version=$(cat "$1/version")
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
mkdir -p "$room"/{bin,mods,proc,sys,dev,new}
busybox=$(command -v busybox) || give_up "busybox is not installed (package busybox-static)"
cp "$busybox" "$room/bin/busybox"
for applet in sh mount insmod switch_root sleep poweroff cat; do ln -s busybox "$room/bin/$applet"; done

for module in "${disk_modules[@]}"; do
    modprobe -d "$kernel" -S "$version" --show-depends "$module" | awk '$1 == "insmod" { print $2 }'
done | awk '!seen[$0]++' | while read -r path; do
    name=$(basename "${path%%.ko*}").ko
    case $path in
        *.xz) xz -dc "$path" >"$room/mods/$name" ;;
        *.zst) zstd -qdc "$path" >"$room/mods/$name" ;;
        *) cp "$path" "$room/mods/$name" ;;
    esac
    printf '%s\n' "$name" >>"$room/mods/order"
done

cat >"$room/init" <<'INIT'
#!/bin/sh
export PATH=/bin
mount -t proc proc /proc; mount -t sysfs sys /sys; mount -t devtmpfs dev /dev
while read -r m; do insmod "/mods/$m" || echo "insmod $m failed"; done < /mods/order
tries=0
while [ ! -b /dev/vda ] && [ $tries -lt 50 ]; do sleep 0.1; tries=$((tries + 1)); done
mount -t ext4 /dev/vda /new || { echo "SHACK: no disk"; poweroff -f; }
mount --move /proc /new/proc; mount --move /sys /new/sys; mount --move /dev /new/dev
exec switch_root /new /sbin/init
INIT
chmod +x "$room/init"
(cd "$room" && find . | cpio -o -H newc --quiet | gzip -1) >"$out"
