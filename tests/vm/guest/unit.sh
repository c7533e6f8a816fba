# The unit as shipped: whose it is, with which priority, how hardened.
use_config key-on-serial
pause 2
systemctl show triplined >/share/unit.log
systemd-analyze security --no-pager triplined.service >/share/security.log
for process in $(pid_of triplined) $(pid_of tripline-guard) $(pid_of guard-backstop); do
    grep -E '^(Name|Uid|Gid|Groups|Seccomp|NoNewPrivs|CapEff):?' "/proc/$process/status"
    chrt -a -p "$process"
done >/share/processes.log
