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

/// A model of the loudspeaker's way to the microphone holds on one clock only.
void check_echo(const Settings& settings, Findings& found) {
    const auto& leak = settings.station.detector.leak;
    if (settings.audio.monitor_device.empty() || !leak.enabled || leak.method != dsp::AntiTrip::echo) return;
    found.error({"anti_trip.method", "audio.monitor_device"},
                "\"echo\" needs both inputs on one clock, and audio.monitor_device has its own",
                "\"envelope\", or both inputs on one device");
}

/// A mute that happens elsewhere, in the transmitter, is not seen from here.
void check_muting(const Settings& settings, Findings& found) {
    const auto& leak = settings.station.detector.leak;
    const bool heard = settings.audio.receiver_channel != 0 && wired(settings.lines, lines::Role::ptt);
    const bool muted = wired(settings.lines, lines::Role::mute) || settings.audio.loudspeaker_channel != 0;
    if (!leak.enabled || !leak.muted_on_air || !heard || muted) return;
    found.note({"anti_trip.muted_on_air", "line.mute.kind", "audio.loudspeaker_channel", "line.ptt.kind"},
               "nothing here mutes the receiver on the air (line.mute, audio.loudspeaker_channel): "
               "say false, unless the transmitter itself does");
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
    check_echo(settings, found);
    check_muting(settings, found);
    if (settings.audio.stall < 2 * settings.audio.latency) {
        found.error({"audio.stall_ms", "audio.latency_ms"},
                    "every block of sound would count as a fault",
                    "at least twice audio.latency_ms (" + ms_text(settings.audio.latency) + ")");
    }
}

}  // namespace tripline::config
