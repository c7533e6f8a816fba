#include "daemon/black_box/agreement.h"

#include "daemon/replay/playback.h"

#include <algorithm>
#include <bit>

namespace tripline::black_box {
namespace {

using station::Event;
using Events = std::vector<Event>;

bool same_decision(const Event& a, const Event& b) {
    return a.at == b.at && a.kind == b.kind && a.from == b.from && a.to == b.to && a.reason == b.reason &&
           a.mode == b.mode && a.lines == b.lines;
}

bool same_figures(const Event& a, const Event& b) {
    const auto equal = [](float x, float y) { return std::bit_cast<std::uint32_t>(x) == std::bit_cast<std::uint32_t>(y); };
    const dsp::Measures& m = a.heard.measures;
    const dsp::Measures& n = b.heard.measures;
    return a.heard.voice == b.heard.voice && a.heard.held == b.heard.held && a.heard.cause == b.heard.cause &&
           equal(m.microphone, n.microphone) && equal(m.receiver, n.receiver) && equal(m.leak, n.leak) &&
           equal(m.floor, n.floor) && equal(m.threshold, n.threshold) && equal(m.remainder, n.remainder);
}

bool same(const Event& a, const Event& b) { return same_decision(a, b) && same_figures(a, b); }

Events replayed(const std::filesystem::path& sound, const station::Settings& settings, const std::vector<std::byte>& memory,
                const std::function<void()>& between) {
    replay::Recording recording({.file = sound});
    Events events;
    replay::play(recording, settings, {.event = [&](const Event& e) { events.push_back(e); }, .progress = [&](Frames) { if (between) between(); }, .memory = memory});
    return events;
}

/// Where the same ends of both begin.
template <typename Same>
std::optional<Frames> same_from(const Events& told, const Events& again, Same alike) {
    std::size_t equal = 0;
    while (equal < told.size() && equal < again.size() &&
           alike(told[told.size() - 1 - equal], again[again.size() - 1 - equal])) {
        ++equal;
    }
    if (equal == told.size() && equal == again.size()) return Frames{0};
    if (equal == 0) return std::nullopt;
    return told[told.size() - equal].at;
}

}  // namespace

Agreement agreement(const std::filesystem::path& sound, const station::Settings& settings,
                    const std::vector<std::byte>& memory, const Events& events, const std::function<void()>& between) {
    const auto again = replayed(sound, settings, memory, between);
    return {same_from(events, again, same_decision), same_from(events, again, same)};
}

bool same_events(const Events& a, const Events& b) { return std::ranges::equal(a, b, same); }

}  // namespace tripline::black_box
