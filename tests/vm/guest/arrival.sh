# The package on a bare Debian without a sound card: the service starts, says so once, and waits.
dpkg -i /shack/tripline.deb
pause 8
systemctl show triplined -p ActiveState,SubState,NRestarts,StatusText >/share/arrival.state
journalctl -u triplined -o cat --no-pager >/share/arrival.journal
modprobe snd-aloop
plug_dongle
udevadm settle
ls -l /dev/hidraw0 /dev/ttyS0 /dev/gpiochip* /dev/snd >/share/devices.log
