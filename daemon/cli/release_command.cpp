// release: what is left to do when the daemon and the guard are both gone.
#include "daemon/cli/commands.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/installed_settings.h"
#include "daemon/cli/sound_wiring.h"
#include "daemon/guard/kept_plan.h"
#include "daemon/lines/release.h"
#include "daemon/lines/sharing.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
#include <iostream>
#include <memory>

namespace tripline::cli {
namespace {

using lines::Wire;

/// A guard that is just releasing its lines holds them for so long at most.
constexpr std::chrono::seconds patience{3};

void tell_line(lines::Role role, const std::string& failure) {
    if (failure.empty()) {
        std::cout << "line." << name(role) << " released" << std::endl;
    } else {
        std::cerr << "line." << name(role) << " NOT released: " << failure << '\n';
    }
}

config::Problems mistakes(config::Problems problems) {
    std::erase_if(problems, [](const auto& p) { return p.severity == config::Severity::note; });
    return problems;
}

/// A line each for what may not be touched; true if there is any.
bool tell_left_out(const SoundWiring& sound) {
    bool any = false;
    for (const auto role : lines::all_roles) {
        const auto& reason = sound.reasons[index(role)];
        if (reason.empty()) continue;
        tell_line(role, reason);
        any = true;
    }
    return any;
}

struct InForce {
    std::optional<guard::Plan> plan;
    bool readable = true;
};

/// What the daemon was driving, as it kept it.
InForce in_force(const std::string& folder) {
    if (folder.empty()) return {};
    try {
        return {guard::kept_plan(folder), true};
    } catch (const std::exception& error) {
        std::cerr << error.what() << '\n';
        return {std::nullopt, false};
    }
}

lines::RestPauses pauses_of(const station::SequenceSettings& steps) {
    return {steps.ptt.lag, steps.antenna.lag};
}

/// Adds the settings file's wires that are not known. Of two opinions on one pin the one in
/// force counts: it is what the equipment has worked with.
void add(std::vector<Wire>& wires, const std::vector<Wire>& more) {
    for (const Wire& wire : more)
        if (std::ranges::none_of(wires, [&](const Wire& known) { return lines::same_wire(known, wire); }))
            wires.push_back(wire);
}

/// A mistake elsewhere in the file is no reason to leave a line as it is.
ExitCode release(const ConfigOptions& options) {
    const auto folder = state_folder(options);
    const auto kept = in_force(folder);
    const auto loaded = load(or_installed(options));
    const auto sound = sound_wiring(loaded);
    const auto pauses = pauses_of(kept.plan ? kept.plan->steps : loaded.settings.station.sequence);
    std::vector<Wire> wires = kept.plan ? lines::wires_of(kept.plan->wiring) : std::vector<Wire>{};
    add(wires, lines::wires_of(sound.wiring));
    const auto released = lines::release_all(wires, pauses, patience);
    if (!released.empty() && all_at_rest(released)) guard::forget_plan(folder);
    tell(mistakes(loaded.problems));
    for (const auto& line : released) tell_line(line.wire.role, line.failure);
    const bool left_out = tell_left_out(sound);
    if (released.empty() && !left_out) std::cerr << "no line is configured: nothing was released\n";
    const bool good = !released.empty() && all_at_rest(released) && loaded.good() && kept.readable;
    return good ? ExitCode::good : ExitCode::refused;
}

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "Every configured line is at rest."},
    ExitCodeText{ExitCode::refused,
                 "A line was not released, none is configured, or the configuration is wrong."}};

}  // namespace

void add_release(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "release", "Drive every line to rest, for when the daemon and its guard are both gone");
    const auto options = std::make_shared<ConfigOptions>();
    add_config_options(*command, *options);
    command->get_option("--config")
        ->description(std::string("Configuration file; without it, ") + installed_settings);
    command->footer(exit_status_text(statuses));
    command->callback([options, &outcome] { outcome = release(*options); });
}

}  // namespace tripline::cli
