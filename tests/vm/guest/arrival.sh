# The package on a bare Debian without a sound card: the service starts, says so once, and waits.
# Between unpacking and setting up, udev reads the new rules: an event makes it, some seconds after the last time.
dpkg --unpack /shack/tripline.deb
pause 4
udevadm trigger --settle --subsystem-match=gpio
dpkg --configure tripline
pause 8
systemctl show triplined -p ActiveState,SubState,NRestarts,StatusText >/share/arrival.state
journalctl -u triplined -o cat --no-pager >/share/arrival.journal
modprobe snd-aloop
plug_dongle
udevadm settle
ls -l /dev/hidraw0 /dev/ttyS0 /dev/gpiochip* /dev/snd >/share/devices.log
