#include "daemon/explain/account.h"

#include <algorithm>

namespace tripline::explain {

const replay::Spell* Account::spell_at(Duration at) const {
    const auto found = std::ranges::find_if(
        spells, [&](const replay::Spell& spell) { return spell.decided <= at && at <= spell.released; });
    return found == spells.end() ? nullptr : &*found;
}

station::State Account::state_at(Duration at) const {
    auto state = station::State::rest;
    for (const auto& event : events) {
        if (time_of(event) > at) break;
        state = event.to;
    }
    return state;
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
        .hop = [&](Frames at, const dsp::Heard& heard) {
            const Duration time = to_duration(at, account.rate);
            if (time >= window.begin && time <= window.end) account.hops.push_back({time, heard});
        },
        .memory = subject.memory};
    account.spells = replay::play(recording, subject.settings.station, watch);
    return account;
}

}  // namespace tripline::explain
