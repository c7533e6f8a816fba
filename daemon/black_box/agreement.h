// How far a replay of a capture tells the same as the station did.
#pragma once

#include "daemon/station/event.h"
#include "daemon/station/settings.h"

#include <filesystem>
#include <functional>
#include <optional>
#include <vector>

namespace tripline::black_box {

/// Places in a file from which on a replay gives the same events as the station gave; zero:
/// all of them; nothing: not even the last.
struct Agreement {
    std::optional<Frames> decisions;   ///< the same states, lines and reasons at the same frames
    std::optional<Frames> figures;     ///< and every level to the bit
};

/// Replays the file from its beginning, with what the station remembered then; empty: an ear that has
/// learnt nothing yet. `events` are the station's, counted from the file's beginning. `between` is called now and
/// then. Throws as replay::play() and that do.
Agreement agreement(const std::filesystem::path& sound, const station::Settings& settings,
                    const std::vector<std::byte>& memory, const std::vector<station::Event>& events,
                    const std::function<void()>& between = {});

/// The same decisions and every figure, to the bit.
bool same_events(const std::vector<station::Event>& a, const std::vector<station::Event>& b);

}  // namespace tripline::black_box
