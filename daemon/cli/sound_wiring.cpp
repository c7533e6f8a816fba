#include "daemon/cli/sound_wiring.h"

#include <algorithm>

namespace tripline::cli {
namespace {

bool tells_the_wire(const std::string& path, const std::string& table) {
    constexpr std::array leaves{".kind", ".device", ".pin", ".active"};
    return std::any_of(leaves.begin(), leaves.end(),
                       [&](const char* leaf) { return path == table + leaf; });
}

/// The first mistake about the wire of a role, or empty.
std::string mistake(const config::Loaded& loaded, const std::string& table) {
    for (const auto& problem : loaded.problems) {
        if (problem.severity != config::Severity::error) continue;
        const bool whole = problem.key == table || problem.key == "line";
        if (whole || tells_the_wire(problem.key, table) || tells_the_wire(problem.suggestion, table))
            return to_string(problem);
    }
    return {};
}

}  // namespace

SoundWiring sound_wiring(const config::Loaded& loaded) {
    SoundWiring sound{loaded.settings.lines, {}};
    for (const auto role : lines::all_roles) {
        auto& reason = sound.reasons[index(role)];
        reason = mistake(loaded, "line." + std::string(name(role)));
        if (!reason.empty()) sound.wiring[index(role)] = {};
    }
    return sound;
}

}  // namespace tripline::cli
