// Rules of the sound devices.
#include "config/findings.h"

namespace tripline::config {
namespace {

void check_devices(const audio::Settings& audio, Findings& found) {
    if (audio.monitor_device.empty()) return;
    if (audio.monitor_device == audio.device) {
        found.error({"audio.monitor_device", "audio.device"}, "is the same as audio.device",
                    "another device, or \"\" for the same one");
    } else {
        found.note({"audio.monitor_device"},
                   "two sound devices run on two clocks: anti-trip times drift, see the manual");
    }
    if (audio.receiver_channel == 0) {
        found.error({"audio.receiver_channel", "audio.monitor_device"},
                    "audio.monitor_device has no channel to listen to", "1 to 64");
    }
}

void check_channels(const Settings& settings, Findings& found) {
    const auto& audio = settings.audio;
    if (audio.monitor_device.empty() && audio.receiver_channel == audio.microphone_channel) {
        found.error({"audio.receiver_channel", "audio.microphone_channel"},
                    "is the microphone's channel", "another channel, or 0 for none");
    }
    if (audio.transmitter_channel != 0 && audio.transmitter_channel == audio.loudspeaker_channel) {
        found.error({"audio.loudspeaker_channel", "audio.transmitter_channel"},
                    "is the transmitter's channel", "another channel, or 0 for none");
    }
    if (audio.receiver_channel == 0 && settings.station.detector.leak.enabled) {
        found.note({"audio.receiver_channel", "anti_trip.enabled"},
                   "without the receiver's audio anti-trip does nothing");
    }
}

}  // namespace

void check_sound(const Settings& settings, Findings& found) {
    check_devices(settings.audio, found);
    check_channels(settings, found);
    if (settings.audio.stall < 2 * settings.audio.latency) {
        found.error({"audio.stall_ms", "audio.latency_ms"},
                    "every block of sound would count as a fault",
                    "at least twice audio.latency_ms (" + ms_text(settings.audio.latency) + ")");
    }
}

}  // namespace tripline::config
