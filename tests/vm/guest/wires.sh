# The station's wires: eight simulated GPIO lines, a dongle, a serial port (that is there), and the trace.
make_gpio() {
    local made=/sys/kernel/config/gpio-sim/shack
    modprobe -a gpio-sim uhid hid-generic
    mountpoint -q /sys/kernel/config || mount -t configfs configfs /sys/kernel/config
    mkdir -p $made/bank0
    echo 8 >$made/bank0/num_lines
    echo shack >$made/bank0/label
    echo 1 >$made/live
    gpio_folder=/sys/devices/platform/$(cat $made/dev_name)/$(cat $made/bank0/chip_name)
}

dongle_log=/run/dongle.log
plug_dongle() {
    /shack/shack_dongle >$dongle_log 2>/run/dongle.err &
    dongle=$!
    wait_for 10 test -c /dev/hidraw0
}

unplug_dongle() {
    kill "$dongle"
    wait "$dongle" 2>/dev/null
    mark "dongle gone"
}

start_trace() {
    mountpoint -q $tracing || mount -t tracefs tracefs $tracing
    echo mono >$tracing/trace_clock
    echo 4096 >$tracing/buffer_size_kb
    {
        echo 'p:shack/gpio_out gpio_sim_direction_output line=%si:u32 level=%dx:u32'
        echo 'p:shack/gpio_set gpio_sim_set line=%si:u32 level=%dx:u32'
        echo 'p:shack/gpio_sets gpio_sim_set_multiple mask=+0(%si):u64 bits=+0(%dx):u64'
        echo 'p:shack/gpio_free gpio_sim_free line=%si:u32'
        echo 'p:shack/serial serial8250_set_mctrl mctrl=%si:u32'
        echo 'p:shack/hid uhid_hid_output_report b0=+0(%si):u8 b1=+1(%si):u8 b2=+2(%si):u8 b3=+3(%si):u8 b4=+4(%si):u8'
    } | while read -r probe; do
        echo "$probe" >>$tracing/kprobe_events || mark "no probe: $probe"
    done
    echo 1 >$tracing/events/shack/enable
    echo 'sig == 15 && comm == "triplined"' >$tracing/events/signal/signal_generate/filter
    echo 1 >$tracing/events/signal/signal_generate/enable
    echo 1 >$tracing/events/power/suspend_resume/enable
    echo 1 >$tracing/tracing_on
}
