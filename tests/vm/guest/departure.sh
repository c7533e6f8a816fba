# The package upgraded, then removed, in mid-over.
use_config key-on-serial
speak
if wait_for 30 speech_keys serial; then
    mark "fault upgraded serial"
    dpkg -i --force-confold /shack/tripline.deb
    mark "cure upgraded serial"
    wait_for 40 speech_keys serial && mark "again upgraded serial"
    mark "fault removed serial"
    dpkg -r tripline
    pause 1
    mark "removed"
else
    mark "never-keyed upgraded serial"
fi
be_quiet
