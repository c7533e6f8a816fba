#include "daemon/service/texts.h"

#include "daemon/text/print.h"

#include <array>
#include <cstring>

namespace tripline::service {

namespace {

std::string name(guard::Condition condition) {
    switch (condition) {
        case guard::Condition::good: return "good";
        case guard::Condition::silent: return "no orders came in time";
        case guard::Condition::too_long: return "its own longest transmission is over";
        case guard::Condition::malformed: return "an order made no sense";
        case guard::Condition::contradictory: return "an order contradicted itself";
        case guard::Condition::flood: return "too many orders came";
        case guard::Condition::line_failed: return "a line failed";
        case guard::Condition::stopped: return "it was told to end, or its backstop is gone";
    }
    return "unknown";
}

Line released(const guard::Status& status) {
    if (status.condition != guard::Condition::line_failed) {
        return {Message::guard_released, {name(status.condition)}};
    }
    const auto role = static_cast<std::size_t>(status.failed_role);
    const bool known = role < lines::all_roles.size();
    return {Message::line_failed,
            {known ? std::string(lines::name(lines::all_roles[role])) : "?", std::strerror(status.failed_error)}};
}

}  // namespace

std::string status_text(Phase phase, Trouble present, const std::string& absence) {
    std::string text(name(phase));
    if (phase == Phase::waiting && !absence.empty()) return text + ": " + absence.substr(0, absence.find('\n'));
    if (phase != Phase::running && present != Trouble::none) text += ": " + std::string(name(present));
    return text;
}

std::string in_words(const Commanded& commanded) {
    if (commanded.mode == station::Mode::safe) return "safe: the key opens now, and nothing keys until the station is armed";
    const std::string armed = commanded.was_forced ? "armed: the forced key opens, and the voice keys" : "armed: the voice keys";
    if (!commanded.unready.empty()) return armed + ", once the station is ready (" + commanded.unready + ")";
    return commanded.locked_out ? armed + ", once the microphone has been quiet: the station is locked out" : armed;
}

std::string forced_text(Duration longest_over) {
    return print("keyed: the transmitter is forced on, for %g s at most; unkey or safe ends it", std::chrono::duration<double>(longest_over).count());
}

std::vector<Line> guard_lines(const guard::Status& before, const guard::Status& after) {
    std::vector<Line> lines;
    const bool was_up = before.link == guard::Link::up;
    const bool is_up = after.link == guard::Link::up;
    if (is_up && (!was_up || after.starts != before.starts)) {
        lines.push_back({Message::guard_up, {std::to_string(after.starts)}});
    }
    const bool released_by_itself =
        after.condition != guard::Condition::good && after.condition != guard::Condition::silent;
    const bool went_silent = after.condition == guard::Condition::silent && was_up && is_up &&
                             before.condition == guard::Condition::good;
    if (after.condition != before.condition && (released_by_itself || went_silent)) lines.push_back(released(after));
    if (was_up && !is_up) lines.push_back({Message::guard_down, {}});
    return lines;
}

}  // namespace tripline::service
