#include "daemon/cli/sound_wiring.h"

namespace tripline::cli {
namespace {

bool in_error(const config::Loaded& loaded, const std::string& table) {
    for (const auto& problem : loaded.problems) {
        const bool error = problem.severity == config::Severity::error;
        if (error && problem.key.starts_with(table)) return true;
    }
    return false;
}

}  // namespace

lines::Wiring sound_wiring(const config::Loaded& loaded) {
    auto wiring = loaded.settings.lines;
    for (const auto role : lines::all_roles) {
        if (in_error(loaded, "line." + std::string(name(role)))) wiring[index(role)] = {};
    }
    return wiring;
}

}  // namespace tripline::cli
