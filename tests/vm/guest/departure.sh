# The package upgraded, then removed, in mid-over.
use_config key-on-gpio
speak
if wait_for 30 keyed_gpio; then
    mark "fault upgraded gpio"
    dpkg -i --force-confold /shack/tripline.deb
    wait_for 40 keyed_gpio && mark "again upgraded"
    mark "fault removed gpio"
    dpkg -r tripline
    sleep 2
    mark "removed"
else
    mark "never-keyed upgraded"
fi
be_quiet
