// The scenes of a table, a row each.
#pragma once

#include "daemon/station/settings.h"
#include "tests/field/closed_loop.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace tripline::field {

using std::chrono_literals::operator""min;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

/// What a row has to reach. Missed, false, held on and torn are always to be 0.
struct Target {
    std::optional<double> onset_p50_ms{};
    std::optional<double> onset_p95_ms{};
    std::optional<double> lost_percent{};
};

/// What the row was last measured to do where it falls short of its target: the test lets
/// nothing get worse, and the report goes on telling the distance to the target.
struct OnRecord {
    std::int64_t missed = 0;
    std::int64_t false_keys = 0;
    std::int64_t held_on = 0;
    std::int64_t torn = 0;
    std::optional<double> onset_p50_ms{};
    std::optional<double> onset_p95_ms{};
    std::optional<double> lost_percent{};
};

struct Row {
    std::string name;
    scene::SceneSettings scene;
    station::Settings station{};   ///< the shipped defaults, but for what the row is about
    Duration length = 30min;
    bool rooms = false;            ///< each scene has another room, RT60 0.2-0.6 s
    Target target{};
    OnRecord on_record{};
};

/// Rows of the main job: leak 12 dB below the voice, room 30 dB below, and noises.
std::vector<Row> main_rows();

/// Rows of the loud loudspeaker: conversations with a radio and a room between, leak from 20
/// dB below the voice to 6 dB above; noises of the room; voices from -40 to -10 dBFS.
std::vector<Row> loud_rows();

/// The scenes of a row, none longer than five minutes, with seeds from `seed` up.
std::vector<scene::SceneSettings> scenes_of(const Row& row, std::uint64_t seed);

}  // namespace tripline::field
