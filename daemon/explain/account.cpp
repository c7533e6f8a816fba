#include "daemon/explain/account.h"

#include "daemon/station/engine.h"
#include "daemon/text/print.h"

#include <algorithm>

namespace tripline::explain {

const replay::Spell* Account::spell_at(Duration at) const {
    const auto found = std::ranges::find_if(
        spells, [&](const replay::Spell& spell) { return spell.decided <= at && at <= spell.released; });
    return found == spells.end() ? nullptr : &*found;
}

std::string Account::clock(Duration at) const {
    if (!began) return {};
    const auto time = *began + std::chrono::floor<std::chrono::milliseconds>(at);
    const std::chrono::hh_mm_ss of_day(time - std::chrono::floor<std::chrono::days>(time));
    return print(" (%02d:%02d:%02d.%03d UTC)", static_cast<int>(of_day.hours().count()), static_cast<int>(of_day.minutes().count()),
                 static_cast<int>(of_day.seconds().count()), static_cast<int>(of_day.subseconds().count()));
}

std::optional<Duration> Account::since_unmute(Duration at) const {
    std::optional<Duration> unmuted;
    for (const auto& event : events) {
        if (time_of(event) >= at) break;
        if (event.lines.mute) unmuted.reset();
        else if (station::lines_of(event.from).mute) unmuted = time_of(event);
    }
    return unmuted ? std::optional(at - *unmuted) : std::nullopt;
}

std::string keyed_in_words(const replay::Spell& spell) {
    const std::string begin = spell.from_before ? "before the recording" : print("%.3f s", replay::to_seconds(spell.keyed));
    return "from " + begin + print(" to %.3f s", replay::to_seconds(spell.released));
}

Account account_of(const Subject& subject, const replay::Span& window,
                   const std::function<void(double share)>& progress) {
    replay::Recording recording(subject.source);
    Account account;
    account.rate = recording.rate();
    account.length = to_duration(recording.length(), recording.rate());
    const auto whole = static_cast<double>(recording.length().count);
    const replay::Watch watch{
        .event = [&](const station::Event& event) { account.events.push_back(event); },
        .progress = [&](Frames at) { if (progress) progress(static_cast<double>(at.count) / whole); },
        .hop = [&](const station::Engine& engine) {
            const Duration time = to_duration(engine.now(), account.rate);
            if (time < window.begin || time > window.end) return;
            account.hops.push_back({time, engine.heard(), engine.state(), engine.mode()});
        },
        .memory = subject.memory,
        .commands = subject.commands};
    account.commanded = !subject.commands.empty();
    account.spells = replay::play(recording, subject.settings.station, watch);
    return account;
}

}  // namespace tripline::explain
