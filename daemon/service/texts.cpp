#include "daemon/service/texts.h"

#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <algorithm>
#include <array>
#include <cmath>
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

std::string why_no_key(bool fault_stands, station::Reason why, Duration quiet_to_clear) {
    using enum station::Reason;
    if (fault_stands) return "a fault stands; when it is over, key again";
    if (why == too_long || why == steady_tone) {
        return print("the station is locked out (%s) until the microphone has been quiet for %g s in one piece; key again after that: "
                     "neither safe nor arm shortens it", std::string(station::name(why)).c_str(),
                     std::chrono::duration<double>(quiet_to_clear).count());
    }
    if (why == not_finite) return "a sample was no number (not_finite); key again in half a second";
    return "something forbade it just then; key again";
}

/// Of a key that was not forced: the voice may hold it closed already.
std::string voice_keys(const Commanded& commanded) {
    const std::string armed = "armed: the voice keys";
    if (commanded.keys_now) return armed + (commanded.key_open ? ", and is about to close the key; safe opens it" : ", and holds the key closed, or its hang time does; safe opens it");
    return commanded.key_open ? armed : armed + "; the key, closed until now, is about to open";
}

}  // namespace

std::string status_text(Phase phase, Trouble present, const std::string& absence) {
    std::string text(name(phase));
    if (phase == Phase::waiting && !absence.empty()) return text + ": " + absence.substr(0, absence.find('\n'));
    if (phase != Phase::running && present != Trouble::none) text += ": " + std::string(name(present));
    return text;
}

std::string missing_text(const std::vector<std::string>& missing) {
    std::string text;
    for (const std::string& one : missing) text += "; " + one.substr(0, one.find('\n'));
    return text;
}

std::string in_words(const Commanded& commanded) {
    const std::string not_seen = "told to open, but has not been seen open yet: look at the status and at the transmitter";
    if (commanded.mode == station::Mode::safe) return "safe: the key is " + (commanded.key_open ? "open" : not_seen) + ", and nothing keys until the station is armed";
    std::string armed = voice_keys(commanded);
    if (commanded.was_forced && !commanded.keying) armed = "armed: the forced key had opened before; the voice keys";
    else if (commanded.was_forced && commanded.held) armed = "armed: the key is no longer forced, but a voice or its hang time holds it; safe opens it";
    else if (commanded.was_forced) armed = "armed: the forced key is " + (commanded.key_open ? "open" : not_seen) + ", and the voice keys";
    if (!commanded.unready.empty()) return armed + ", once the station is ready (" + commanded.unready + ")";
    return commanded.quiet_awaited ? armed + ", once the microphone has been quiet: the station is locked out" : armed;
}

std::string overtaken_text(station::Mode now) {
    return "done, but another command came after it: the mode is " + std::string(station::name(now)) + " now";
}

std::string forced_text(Duration longest_over, Duration on_air) {
    const double left_s = std::chrono::duration<double>(std::max(longest_over - on_air, Duration{0})).count();
    return print("keyed: the transmitter is forced on until unkey or safe; if neither comes, the time limit opens the key in %g s", std::round(left_s * 10) / 10);
}

std::string key_refusal(bool fault_stands, station::Reason why, Duration quiet_to_clear, station::Mode left_in) {
    const char* const afterwards = left_in == station::Mode::keyed ? "; the mode stays keyed, in which no voice keys: arm lets it"
                                                                   : "; the mode is armed as before, and the voice keys then";
    return why_no_key(fault_stands, why, quiet_to_clear) + afterwards;
}

std::string lock_end_text(station::Mode mode) {
    const std::string quiet = "the microphone is quiet";
    return mode == station::Mode::keyed ? quiet + ", and the key is forced again or the station armed" : quiet;
}

std::string nothing_forced_text(station::Mode mode, bool key_closed) {
    if (key_closed) return "nothing done: no key is forced, but the key is closed, by a voice or its hang time; safe opens it";
    const std::string text = "nothing done: no key is forced, the mode is " + std::string(station::name(mode));
    return mode == station::Mode::armed ? text + "; what the voice keys, safe ends" : text;
}

std::vector<std::string> unknown_lines(const guard::Status& status, const std::string& notice, const lines::Wiring& wiring) {
    const bool wires = std::ranges::any_of(wiring, [](const lines::LineSettings& line) {
        return line.kind != lines::Kind::none && line.kind != lines::Kind::file;
    });
    std::string why = notice.empty() ? "it ended without a word" : "its last word was: " + notice;
    if (status.condition == guard::Condition::line_failed) {
        const auto failed = released(status).arguments;
        why = "line " + failed[0] + " failed: " + failed[1];
    }
    return {why, wires ? "look at every line" : "its lines are log files or pipes, no wires"};
}

std::string mark_kept_text(bool has_log, const std::string& no_sound) {
    const std::string log = has_log ? "" : "; there is no station log to keep that in";
    if (!no_sound.empty()) return log + "; its sound is not written: " + no_sound;
    return log + "; the black box is asked to write what it keeps: the status and the daemon's log tell what became of that";
}

std::string without_set_place(const std::string& problem) {
    const auto end = problem.find(": ");
    return problem.starts_with("--set:") && end != std::string::npos ? problem.substr(end + 2) : problem;
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
