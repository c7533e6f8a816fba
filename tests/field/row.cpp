#include "tests/field/row.h"

#include <algorithm>

namespace tripline::field {
namespace {

constexpr Duration longest_scene = 5min;

Row row(std::string name) {
    Row row;
    row.name = std::move(name);
    return row;
}

/// A noise of the room, 15 dB below the voice, with the operator speaking seldom.
Row noise_row(const std::string& noise) {
    Row r = row(noise + " 15 dB below the voice");
    r.scene.noise = noise;
    r.scene.noise_level = Decibels{-15};
    r.scene.script.near_answers = {5s, 20s};
    r.length = 10min;
    return r;
}

/// Speech comes 60 ms late, so that 15 ms of relay cost none of it.
Row look_ahead_row() {
    Row r = row("the same, look-ahead 60 ms, relay 15 ms");
    r.station.sequence = {.mute = {0ms, 5ms}, .antenna = {0ms, 20ms}, .ptt = {15ms, 20ms}, .settle = 0ms};
    r.station.transmit_audio.look_ahead = 60ms;
    r.target = {.lost_percent = 0};
    return r;
}

}  // namespace

std::vector<Row> main_rows() {
    Row plain = row("leak -12 dB, room -30 dB");
    plain.target = {.onset_p50_ms = 20, .onset_p95_ms = 60};
    return {plain, look_ahead_row(), noise_row("keyboard"), noise_row("footsteps"), noise_row("crowd")};
}

std::vector<scene::SceneSettings> scenes_of(const Row& row, std::uint64_t seed) {
    std::vector<scene::SceneSettings> scenes;
    for (Duration left = row.length; left > 0s; left -= longest_scene) {
        scenes.push_back(row.scene);
        scenes.back().seed = seed++;
        scenes.back().script.length = std::min(left, longest_scene);
    }
    return scenes;
}

}  // namespace tripline::field
