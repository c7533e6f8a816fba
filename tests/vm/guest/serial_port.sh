# What opening a serial port does by itself, by a program that knows nothing of keying.
systemctl stop triplined 2>/dev/null
mark serial opening
exec 5<>/dev/ttyS0
mark serial open
pause 1
mark serial closing
exec 5>&-
mark serial closed
pause 0.5
