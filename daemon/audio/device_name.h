// Stable names of sound devices: "<host api>: <device name>", matched exactly. ALSA's
// card number, as in "Fen Audio: Line (hw:1,0)", changes with the order of plugging and
// is left out; two alike devices are told apart only with it.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace tripline::audio {

struct Device {
    int index = 0;          ///< of the sound library; changes from boot to boot, never shown as a name
    std::string host_api;
    std::string name;
    int inputs = 0;         ///< channels
    int outputs = 0;
    double default_rate_hz = 0;
};

/// What a device or another program calls itself, with ? for each control character (C0, DEL,
/// and C1 in UTF-8): it goes to terminals and into the log.
std::string plain_name(std::string_view name);

/// "<host api>: <device name>" without a trailing " (hw:1,0)"
std::string stable_name(const Device& device);
/// The same with it.
std::string full_name(const Device& device);
/// The shorter of the two that names this device alone.
std::string shortest_unique_name(const Device& device, std::span<const Device> all);

/// How many channels the settings need of a device.
struct Need {
    int inputs = 0;
    int outputs = 0;
};

/// The one device of that name that has the channels. Throws Error for none, for more
/// than one of the same name, for a bare number, and for too few channels; the text
/// lists the candidates.
const Device& choose_device(std::span<const Device> devices, std::string_view name, Need need);

}  // namespace tripline::audio
