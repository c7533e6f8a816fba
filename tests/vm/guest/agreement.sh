# The recording through the loopback, once for each wire as the key.
for wire in serial dongle gpio; do
    config=key-on-$wire
    use_config $config
    pause 3
    mark "play $config"
    /shack/shack_player plughw:0,0 /shack/scene.flac 1 | while read -r word time; do mark "$word $config $time"; done
    pause 3
    mark "played $config"
done
