#include "daemon/audio/device_name.h"

#include "daemon/audio/source.h"

#include <algorithm>
#include <cctype>
#include <vector>

namespace tripline::audio {

namespace {

bool is_number(std::string_view name) {
    return !name.empty() && std::all_of(name.begin(), name.end(), [](unsigned char c) { return std::isdigit(c); });
}

std::string in_quotes(std::string_view name) {
    std::string text(1, '"');
    text += name;
    text += '"';
    return text;
}

std::string candidates(std::span<const Device> devices) {
    if (devices.empty()) return "; no sound device is present";
    std::string text = "; present are:";
    for (const Device& device : devices) {
        text += "\n  " + in_quotes(shortest_unique_name(device, devices)) + " (" + std::to_string(device.inputs) +
                " in, " + std::to_string(device.outputs) + " out)";
    }
    return text;
}

void check_channels(const Device& device, Need need) {
    if (device.inputs >= need.inputs && device.outputs >= need.outputs) return;
    throw Error("sound device " + in_quotes(stable_name(device)) + " has " + std::to_string(device.inputs) +
                " input and " + std::to_string(device.outputs) + " output channels, the settings need " +
                std::to_string(need.inputs) + " and " + std::to_string(need.outputs) + "; those that another program holds do not count");
}

}  // namespace

std::string plain_name(std::string_view name) {
    std::string plain(name);
    unsigned char before = 0;
    for (char& c : plain) {
        const auto byte = static_cast<unsigned char>(c);
        const bool upper_control = before == 0xc2 && byte >= 0x80 && byte < 0xa0;
        if (byte < 0x20 || byte == 0x7f || upper_control) c = '?';
        before = byte;
    }
    return plain;
}

std::string full_name(const Device& device) { return device.host_api + ": " + device.name; }

std::string stable_name(const Device& device) {
    const auto number = device.name.rfind(" (hw:");
    const bool trailing = number != std::string::npos && device.name.back() == ')';
    return device.host_api + ": " + device.name.substr(0, trailing ? number : std::string::npos);
}

std::string shortest_unique_name(const Device& device, std::span<const Device> all) {
    const std::string name = stable_name(device);
    const auto same = [&name](const Device& other) { return stable_name(other) == name; };
    return std::count_if(all.begin(), all.end(), same) > 1 ? full_name(device) : name;
}

const Device& choose_device(std::span<const Device> devices, std::string_view name, Need need) {
    if (name.empty()) throw Error("no sound device is named in the settings" + candidates(devices));
    if (is_number(name)) {
        throw Error("sound device " + in_quotes(name) + ": a number is no stable name, it changes from boot to boot" +
                    candidates(devices));
    }
    std::vector<const Device*> found;
    for (const auto spelled : {full_name, stable_name}) {
        if (!found.empty()) break;
        for (const Device& device : devices) {
            if (spelled(device) == name) found.push_back(&device);
        }
    }
    if (found.empty()) throw Error("sound device " + in_quotes(name) + " is not present, or another program holds it" + candidates(devices));
    if (found.size() > 1) {
        throw Error("sound device " + in_quotes(name) + " is ambiguous: " + std::to_string(found.size()) +
                    " devices have this name" + candidates(devices));
    }
    check_channels(*found.front(), need);
    return *found.front();
}

}  // namespace tripline::audio
