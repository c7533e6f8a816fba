// Keys of the sound devices.
#include "config/section.h"

#include <algorithm>

namespace tripline::config {
namespace {

std::string refuse_number(const Settings&, const Value& value) {
    const auto& name = std::get<std::string>(value);
    const bool digits = !name.empty() && std::all_of(name.begin(), name.end(),
                                                     [](char c) { return c >= '0' && c <= '9'; });
    return digits ? config::quoted(name) + " is a bare number, and numbers of devices change; give the name"
                  : "";
}

void add_devices(Section& audio) {
    audio
        .text(
            "device", [](auto& s) -> auto& { return s.audio.device; },
            "Name of the sound device, exactly as `tripline devices` prints it.",
            "Of the microphone's, if monitor_device is given. Empty: none chosen; the daemon lists "
            "what is there and waits.")
        .refuse = refuse_number;
    audio
        .text(
            "monitor_device", [](auto& s) -> auto& { return s.audio.monitor_device; },
            "Name of the device that hears the receiver, if it is another one.",
            "Empty: the same device. Two devices run on two clocks: see the manual.")
        .refuse = refuse_number;
}

void add_channels(Section& audio) {
    audio.whole(
        "microphone_channel", {1, 64}, [](auto& s) -> auto& { return s.audio.microphone_channel; },
        "Input channel of the microphone, counted from 1.");
    audio.whole(
        "receiver_channel", {0, 64}, [](auto& s) -> auto& { return s.audio.receiver_channel; },
        "Input channel of the receiver's audio; 0: none.");
    audio.whole(
        "transmitter_channel", {0, 64},
        [](auto& s) -> auto& { return s.audio.transmitter_channel; },
        "Output channel to the transmitter; 0: no audio path, the station only needs the key.");
    audio.whole(
        "loudspeaker_channel", {0, 64},
        [](auto& s) -> auto& { return s.audio.loudspeaker_channel; },
        "Output channel to the loudspeaker; 0: no audio path.");
}

void add_timing(Section& audio) {
    audio.number(
        "rate_hz", {8000, 192000}, [](auto& s) -> auto& { return s.audio.rate; }, "Sample rate.");
    audio.number(
        "latency_ms", {1, 200}, [](auto& s) -> auto& { return s.audio.latency; },
        "Latency asked of the sound system.", "Shorter is quicker to the key and more work.");
    audio.number(
        "stall_ms", {10, 2000}, [](auto& s) -> auto& { return s.audio.stall; },
        "Without audio for this long the key is released.");
    audio.number(
        "lifeless_ms", {0, 10000}, [](auto& s) -> auto& { return s.audio.lifeless; },
        "Inputs without any noise for this long are a fault: the key is released; 0: never.",
        "All inputs exactly zero, or the microphone stuck on one value: nothing is connected.");
    audio.whole(
        "priority", {0, 99}, [](auto& s) -> auto& { return s.audio.priority; },
        "Real-time priority (SCHED_FIFO) asked for; 0: don't ask.");
}

}  // namespace

void add_sound_keys(Catalogue& catalogue) {
    Section audio(catalogue, "audio", Touches::sound, "Sound devices and channels.");
    add_devices(audio);
    add_channels(audio);
    add_timing(audio);
}

}  // namespace tripline::config
