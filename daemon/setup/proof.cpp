#include "daemon/setup/proof.h"

#include <algorithm>

namespace tripline::setup {
namespace {

/// A transmission that was decided within the stretch.
bool keyed_in(const std::vector<replay::Spell>& spells, const replay::Span& span) {
    return std::ranges::any_of(
        spells, [&](const replay::Spell& s) { return s.decided >= span.begin && s.decided < span.end; });
}

bool on_air_in(const std::vector<replay::Spell>& spells, const replay::Span& span) {
    return std::ranges::any_of(
        spells, [&](const replay::Spell& s) { return s.keyed < span.end && s.released > span.begin; });
}

}  // namespace

Proof prove(const replay::RecordingSource& source, const Stretches& stretches, const station::Settings& settings,
            const replay::Watch& watch) {
    replay::Recording recording(source);
    const auto spells = replay::play(recording, settings, watch);
    return {.room_silent = !keyed_in(spells, stretches.room),
            .receiver_taken = stretches.receiver.has_value(),
            .receiver_silent = !stretches.receiver || !keyed_in(spells, *stretches.receiver),
            .voice_keyed = on_air_in(spells, stretches.voice),
            .soft_taken = stretches.soft.has_value(),
            .soft_keyed = !stretches.soft || on_air_in(spells, *stretches.soft)};
}

std::string in_words(const Proof& proof) {
    const auto line = [](bool good, const char* yes, const char* no) { return std::string("  ") + (good ? yes : no) + '\n'; };
    return line(proof.room_silent, "the room keys nothing", "THE ROOM KEYS") +
           (proof.receiver_taken ? line(proof.receiver_silent, "the receiver keys nothing",
                                        "THE RECEIVER KEYS. If somebody spoke in its take, or handled the microphone: take it again, in silence") : "") +
           line(proof.voice_keyed, "the voice keys", "THE VOICE DOES NOT KEY") +
           (proof.soft_taken ? line(proof.soft_keyed, "the soft voice keys", "THE SOFT VOICE DOES NOT KEY") : "");
}

}  // namespace tripline::setup
