#include "tests/field/row.h"

#include <algorithm>

namespace tripline::field {
namespace {

constexpr Duration longest_scene = 5min;

/// A room and a sound card for the scene, by its seed.
void furnish(scene::SceneSettings& scene) {
    scene::Random random(scene.seed);
    const auto ms_between = [&](double low, double high) {
        return Duration{std::llround(1e6 * random.between(low, high))};
    };
    scene.path.reverberation = ms_between(200, 600);
    scene.path.delay = ms_between(10, 60);
}

Row row(std::string name) {
    Row row;
    row.name = std::move(name);
    return row;
}

/// A noise of the room, 15 dB below the voice, with the operator speaking seldom.
Row noise_row(const std::string& noise, std::int64_t torn) {
    Row r = row(noise + " 15 dB below the voice");
    r.scene.noise = noise;
    r.scene.noise_level = Decibels{-15};
    r.scene.script.near_answers = {5s, 20s};
    r.length = 10min;
    r.on_record = {.torn = torn};
    return r;
}

/// Speech comes 60 ms late, so that 15 ms of relay cost none of it.
Row look_ahead_row() {
    Row r = row("the same, look-ahead 60 ms, relay 15 ms");
    r.station.sequence = {.mute = {0ms, 5ms}, .antenna = {0ms, 20ms}, .ptt = {15ms, 20ms}, .settle = 0ms};
    r.station.transmit_audio.look_ahead = 60ms;
    r.target = {.lost_percent = 0};
    r.on_record = {.lost_percent = 0.29};
    return r;
}

/// Both talk as in a conversation; the far station comes through a poor channel.
Row loud_row(std::string name, double leak_db) {
    Row r = row(std::move(name));
    r.rooms = true;
    r.scene.conversation = true;
    r.scene.leak = Decibels{leak_db};
    r.scene.radio = {.fading = true, .drops = true, .heterodyne = true, .static_crashes = true};
    r.scene.path.drive = 0.2;
    return r;
}

Row leak_row(const std::string& leak, double leak_db, double p50_ms, double p95_ms) {
    Row r = loud_row("leak " + leak + " dB", leak_db);
    r.target = {.onset_p50_ms = p50_ms, .onset_p95_ms = p95_ms};
    return r;
}

Row room_row(const std::string& name, const std::string& noise, double level_db) {
    Row r = loud_row(name, -20);
    if (noise == "pink") {
        r.scene.room = Decibels{level_db};
    } else {
        r.scene.noise = noise;
        r.scene.noise_level = Decibels{level_db};
    }
    return r;
}

/// What the station switches stands on the operator's table.
Row relay_row(double peak_dbfs) {
    Row r = loud_row("relays of " + std::to_string(static_cast<int>(peak_dbfs)) + " dBFS, leak -20 dB", -20);
    r.scene.relays = Dbfs{peak_dbfs};
    return r;
}

Row voice_row(double voice_dbfs) {
    Row r = loud_row("voice " + std::to_string(static_cast<int>(voice_dbfs)) + " dBFS, leak -12 dB", -12);
    r.scene.script.near_level = Dbfs{voice_dbfs};
    return r;
}

}  // namespace

std::vector<Row> main_rows() {
    Row plain = row("leak -12 dB, room -30 dB");
    plain.target = {.onset_p50_ms = 20, .onset_p95_ms = 60};
    plain.on_record = {.onset_p95_ms = 211};
    return {plain, look_ahead_row(), noise_row("keyboard", 1), noise_row("footsteps", 1),
            noise_row("crowd", 1)};
}

std::vector<Row> loud_rows() {
    std::vector<Row> rows{leak_row("-20", -20, 15, 30), leak_row("-6", -6, 20, 60),
                          leak_row("0", 0, 25, 100), leak_row("+6", 6, 40, 150),
                          room_row("room noise 20 dB below", "pink", -20),
                          room_row("room noise 10 dB below", "pink", -10),
                          room_row("two talkers 15 dB below", "talkers", -15),
                          room_row("keyboard at equal peak", "keyboard", 0)};
    rows.back().scene.noise_by_peak = true;
    for (const double peak : {-30.0, -20.0}) rows.push_back(relay_row(peak));
    for (const double voice : {-40.0, -30.0, -20.0, -10.0}) rows.push_back(voice_row(voice));
    return rows;
}

std::vector<scene::SceneSettings> scenes_of(const Row& row, std::uint64_t seed) {
    std::vector<scene::SceneSettings> scenes;
    for (Duration left = row.length; left > 0s; left -= longest_scene) {
        scenes.push_back(row.scene);
        scenes.back().seed = seed++;
        if (row.rooms) furnish(scenes.back());
        scenes.back().script.length = std::min(left, longest_scene);
    }
    return scenes;
}

}  // namespace tripline::field
