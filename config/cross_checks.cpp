#include "config/cross_checks.h"

#include "config/keys.h"

#include <algorithm>
#include <functional>

namespace tripline::config {
namespace {

using lines::Kind;
using lines::Role;

constexpr std::string_view name_of(Role role) {
    switch (role) {
        case Role::ptt:
            return "line.ptt";
        case Role::mute:
            return "line.mute";
        case Role::antenna:
            return "line.antenna";
        case Role::alive:
            return "line.alive";
    }
    return {};
}

std::string key_of(Role role, std::string_view leaf) {
    return std::string(name_of(role)) + '.' + std::string(leaf);
}

std::string number_text(double number) { return to_toml(number); }
std::string ms_text(Duration d) {
    return number_text(static_cast<double>(d.count()) / 1e6) + " ms";
}

/// Collects findings. Each names the keys it is about; the first gives the place.
class Findings {
public:
    explicit Findings(Loaded& loaded) : loaded_(loaded), before_(loaded.problems) {}

    void error(const std::vector<std::string>& keys, std::string what, std::string allowed = {}) {
        add(keys, std::move(what), std::move(allowed), Severity::error);
    }
    void note(const std::vector<std::string>& keys, std::string what) {
        add(keys, std::move(what), {}, Severity::note);
    }
    bool given(const std::string& key) const { return loaded_.origins.count(key) > 0; }

private:
    void add(const std::vector<std::string>& keys, std::string what, std::string allowed,
             Severity severity) {
        const auto in_error = [this](const std::string& key) {
            return std::any_of(before_.begin(), before_.end(),
                               [&](const Problem& p) { return p.key == key; });
        };
        if (std::any_of(keys.begin(), keys.end(), in_error)) return;
        loaded_.problems.push_back({loaded_.origin(keys.front()),
                                    keys.front(),
                                    std::move(what),
                                    std::move(allowed),
                                    {},
                                    severity});
    }

    Loaded& loaded_;
    Problems before_;
};

void check_levels(const Settings& s, Findings& found) {
    const auto& detector = s.station.detector;
    if (detector.gate.threshold == dsp::Threshold::floating &&
        detector.gate.hysteresis >= detector.gate.above_floor) {
        found.error({"gate.hysteresis_db", "gate.above_floor_db"},
                    "the gate would close under the room noise, that is, never",
                    "less than gate.above_floor_db (" +
                        number_text(detector.gate.above_floor.value) + " dB)");
    }
    if (detector.band.low >= detector.band.high) {
        found.error({"voice_band.low_hz", "voice_band.high_hz"}, "the band is empty",
                    "less than voice_band.high_hz");
    }
    if (detector.band.high.value > 0.45 * s.audio.rate.value) {
        found.error({"voice_band.high_hz", "audio.rate_hz"}, "too high for the sample rate",
                    "at most " + number_text(0.45 * s.audio.rate.value) + " Hz");
    }
}

void check_times(const Settings& s, Findings& found) {
    using std::chrono_literals::operator""s;
    const auto& station = s.station;
    if (station.detector.gate.qualify >= station.detector.hold) {
        found.error({"gate.qualify_ms", "gate.hold_ms"}, "not shorter than the hang time",
                    "less than gate.hold_ms (" + ms_text(station.detector.hold) + ")");
    }
    if (station.detector.hold < 1s || station.detector.hold > 3s) {
        found.note({"gate.hold_ms"}, ms_text(station.detector.hold) +
                                         " is unusual; common practice is 1000 to 3000 ms");
    }
    if (station.limits.longest_over > 180s) {
        found.note({"limits.longest_over_s"},
                   "longer than the 3 minutes of 47 CFR 97.213(b); local rules govern");
    }
    if (station.limits.longest_over <= station.detector.hold) {
        found.error({"limits.longest_over_s", "gate.hold_ms"}, "not longer than the hang time",
                    "more than gate.hold_ms (" + ms_text(station.detector.hold) + ")");
    }
    if (s.audio.stall < 2 * s.audio.latency) {
        found.error({"audio.stall_ms", "audio.latency_ms"},
                    "every block of sound would count as a fault",
                    "at least twice audio.latency_ms (" + ms_text(s.audio.latency) + ")");
    }
}

/// From the first sample of a syllable to the transmitter being ready.
Duration time_to_ready(const station::Settings& s) {
    return s.detector.gate.qualify + s.sequence.mute.lead + s.sequence.antenna.lead +
           s.sequence.settle + s.sequence.ptt.lead;
}

void check_audio_path(const Settings& s, Findings& found) {
    const auto look_ahead = s.station.transmit_audio.look_ahead;
    if (look_ahead <= Duration::zero()) return;
    const std::string key = "transmit_audio.look_ahead_ms";
    if (s.audio.transmitter_channel == 0) {
        found.note({key, "audio.transmitter_channel"},
                   "delays nothing: audio.transmitter_channel is 0");
    }
    const auto needed = time_to_ready(s.station);
    if (look_ahead < needed) {
        found.note({key}, "shorter than the " + ms_text(needed) +
                              " from voice to transmitter ready: the first syllable is cut");
    }
}

void check_devices(const Settings& s, Findings& found) {
    const auto& audio = s.audio;
    const bool two = !audio.monitor_device.empty();
    if (two && audio.monitor_device == audio.device) {
        found.error({"audio.monitor_device", "audio.device"}, "is the same as audio.device",
                    "another device, or \"\" for the same one");
    } else if (two) {
        found.note({"audio.monitor_device"},
                   "two sound devices run on two clocks: anti-trip times drift, see the manual");
    }
    if (two && audio.receiver_channel == 0) {
        found.error({"audio.receiver_channel", "audio.monitor_device"},
                    "audio.monitor_device has no channel to listen to", "1 to 64");
    }
    if (!two && audio.receiver_channel == audio.microphone_channel) {
        found.error({"audio.receiver_channel", "audio.microphone_channel"},
                    "is the microphone's channel", "another channel, or 0 for none");
    }
    if (audio.transmitter_channel != 0 && audio.transmitter_channel == audio.loudspeaker_channel) {
        found.error({"audio.loudspeaker_channel", "audio.transmitter_channel"},
                    "is the transmitter's channel", "another channel, or 0 for none");
    }
    if (audio.receiver_channel == 0 && s.station.detector.leak.enabled) {
        found.note({"audio.receiver_channel", "anti_trip.enabled"},
                   "without the receiver's audio anti-trip does nothing");
    }
}

void check_wire(const Settings& s, Role role, Findings& found) {
    const auto& wire = line(s, role);
    const auto kind = key_of(role, "kind");
    const auto device = key_of(role, "device");
    const auto pin = key_of(role, "pin");
    if (wire.kind != Kind::none && wire.device.empty()) {
        found.error({kind, device}, "needs " + device, "the path of the file or device");
    }
    if (wire.kind == Kind::none && !wire.device.empty()) {
        found.note({device, kind}, "not used: " + kind + " is \"none\"");
    }
    if (wire.kind == Kind::gpio && !found.given(pin)) {
        found.error({kind, pin}, "needs " + pin, "0 to 1023");
    }
}

bool same_pin(const lines::LineSettings& a, const lines::LineSettings& b) {
    if (a.kind != b.kind || a.device != b.device) return false;
    switch (a.kind) {
        case Kind::serial:
            return a.serial_pin == b.serial_pin;
        case Kind::gpio:
            return a.gpio_line == b.gpio_line;
        case Kind::cm108:
            return a.cm108_pin == b.cm108_pin;
        case Kind::none:
        case Kind::file:
            break;  // roles may share a log
    }
    return false;
}

void check_wiring(const Settings& s, Findings& found) {
    for (const auto role : lines::all_roles) {
        check_wire(s, role, found);
        for (const auto other : lines::all_roles) {
            if (other >= role || !same_pin(line(s, role), line(s, other))) continue;
            const auto pin = found.given(key_of(role, "pin")) ? "pin" : "device";
            found.error({key_of(role, pin), key_of(role, "kind"), key_of(other, "pin"),
                         key_of(other, "device")},
                        "is the pin of " + std::string(name_of(other)), "a pin of its own");
        }
    }
}

}  // namespace

void cross_check(Loaded& loaded) {
    Findings found(loaded);
    for (const auto rule :
         {check_levels, check_times, check_audio_path, check_devices, check_wiring}) {
        rule(loaded.settings, found);
    }
}

}  // namespace tripline::config
