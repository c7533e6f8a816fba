# The control socket and the page, as the operator of the installed service has them.
as_somebody() {
    echo "--- $*"
    setpriv --reuid=4711 --regid=4711 "$@" 2>&1
}

group=$(getent group tripline)
group=${group#*:*:}
group=${group%%:*}
{
    stat -c '%A %U %G' /run/tripline/control.sock
    as_somebody --groups="$group" tripline status
    as_somebody --groups="$group" tripline safe
    as_somebody --groups="$group" tripline status
    as_somebody --groups="$group" tripline arm
    as_somebody --clear-groups tripline status
} >/share/desk.log

# The unit has no network, and the manual says how to give it some: its own words are tried.
get_page() {
    exec 5<>/dev/tcp/127.0.0.1/8571 || return
    printf 'GET / HTTP/1.1\r\nHost: 127.0.0.1:8571\r\nConnection: close\r\n\r\n' >&5
    timeout 20 cat <&5
    exec 5<&-
}
overrides=/etc/systemd/system/triplined.service.d
printf '[web]\nport = 8571\n' >>/etc/tripline/tripline.toml
systemctl restart triplined
pause 3
get_page >/share/page-without-network.log 2>&1
mkdir -p $overrides
sed -n '/^```ini$/,/^```$/{/^```/d;p}' /usr/share/doc/tripline/manual/page.md >$overrides/override.conf
cp $overrides/override.conf /share/override.log
systemctl daemon-reload
systemctl restart triplined
pause 3
get_page >/share/page.log 2>&1
rm -r $overrides
systemctl daemon-reload
