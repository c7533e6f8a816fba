// devices
#include "daemon/audio/sound_system.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/exit_status.h"

#include <CLI/CLI.hpp>

#include <array>
#include <iostream>

namespace tripline::cli {
namespace {

void print(const audio::Device& device, const std::vector<audio::Device>& all) {
    std::cout << '"' << audio::shortest_unique_name(device, all) << "\"  " << device.inputs << " in, "
              << device.outputs << " out, " << device.default_rate_hz << " Hz\n";
}

ExitCode list() {
    const audio::SoundSystem system;
    const std::vector<audio::Device> devices = system.devices();
    for (const audio::Device& device : devices) print(device, devices);
    if (!devices.empty()) return ExitCode::good;
    std::cerr << "No sound device is present, or you may open none. Is the card plugged in (cat /proc/asound/cards)?\n"
                 "Are you in the group that may use it (groups; sudo adduser $USER audio, then log in anew)?\n";
    return ExitCode::refused;
}

constexpr std::array statuses{ExitCodeText{ExitCode::good, "The devices were listed."},
                              ExitCodeText{ExitCode::refused, "No sound device is present or may be opened, or the usage is wrong."}};

}  // namespace

void add_devices(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("devices", "List the sound devices by the names the settings use");
    command->footer(exit_status_text(statuses));
    command->callback([&outcome] { outcome = list(); });
}

}  // namespace tripline::cli
