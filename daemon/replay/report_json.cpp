#include "daemon/replay/figures.h"
#include "daemon/replay/report.h"

#include "daemon/station/names.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace tripline::replay {
namespace {

using Json = nlohmann::ordered_json;

double thousandths(double value) { return std::round(value * 1000) / 1000 + 0.0; }
/// For shares of one, and for seconds: no digit of the text is missing.
double millionths(double value) { return std::round(value * 1e6) / 1e6 + 0.0; }

/// "onset_p50_ms" and so on: a figure's name is the one of its limit and in a baseline. Null where there is none.
void add(Json& json, const std::string& what, const std::optional<Distribution>& d, bool p95 = true) {
    const auto figure = [&](double Distribution::*member) { return d ? Json(thousandths((*d).*member)) : Json(); };
    json[what + "_p50_ms"] = figure(&Distribution::p50);
    if (p95) json[what + "_p95_ms"] = figure(&Distribution::p95);
    json[what + "_longest_ms"] = figure(&Distribution::max);
}

Duration keyed_time(const Result& result) {
    Duration sum{};
    for (const Spell& spell : result.spells) sum += spell.released - spell.keyed;
    return sum;
}

void add_score(Json& json, const Score& score, const Timing& timing) {
    json["overs"] = score.overs;
    json["missed"] = score.missed;
    json["torn"] = score.torn;
    json["false_keys"] = score.false_keys;
    json["held_on"] = score.held_on;
    json["already_keyed"] = score.already_keyed;
    add(json, "onset", distribution_ms(score.onset));
    json["relay_ms"] = thousandths(to_ms(timing.relay));
    json["look_ahead_ms"] = thousandths(to_ms(timing.look_ahead));
    add(json, "on_air", distribution_ms(on_air(score, timing)));
    add(json, "front_lost", distribution_ms(score.front_lost));
    json["dropout_ms"] = thousandths(to_ms(score.dropout));
    add(json, "tail", distribution_ms(score.tail), false);
    json["speech_s"] = millionths(to_seconds(score.speech));
    json["lost_percent"] = thousandths(lost_percent(score));
    json["clipped_percent"] = thousandths(clipped_percent(score));
    json["p_miss"] = millionths(score.detection.p_miss());
    json["p_false"] = millionths(score.detection.p_false());
    json["cost"] = millionths(score.detection.cost());
}

Json json_of(const Result& result) {
    Json json;
    json["seconds"] = millionths(to_seconds(result.length));
    json["keyed"] = result.spells.size();
    json["keyed_s"] = millionths(to_seconds(keyed_time(result)));
    if (result.score) add_score(json, *result.score, result.timing);
    return json;
}

double tenths(double value) { return std::round(std::clamp(value, -200.0, 200.0) * 10) / 10 + 0.0; }

/// Nothing of a key that was closed when the recording began was heard in it.
Json json_of(const Spell& spell) {
    const dsp::Measures& heard = spell.heard.measures;
    return {{"start_s", millionths(to_seconds(spell.keyed))},
            {"end_s", millionths(to_seconds(spell.released))},
            {"began_by", station::name(spell.began_by)},
            {"cause", spell.from_before ? Json() : Json(station::name(spell.heard.cause))},
            {"microphone_dbfs", spell.from_before ? Json() : Json(tenths(to_dbfs(heard.microphone).value))},
            {"threshold_dbfs", spell.from_before ? Json() : Json(tenths(to_dbfs(heard.threshold).value))},
            {"margin_db", has_margin(heard) ? Json(tenths(static_cast<double>(margin_db(heard)))) : Json()},
            {"ended_by", station::end_name(spell.reason)}};
}

Json json_of_file(const Result& result) {
    Json json{{"file", result.file}, {"rate_hz", result.rate.value}};
    json.update(json_of(result));
    json["transmissions"] = Json::array();
    for (const Spell& spell : result.spells) json["transmissions"].push_back(json_of(spell));
    return json;
}

}  // namespace

std::string to_json(const Report& report) {
    Json json{{"files", Json::array()}};
    for (const Result& file : report.files) json["files"].push_back(json_of_file(file));
    json["total"] = json_of(total(report.files));
    json["limits"] = Json::array();
    for (const Check& c : report.checks) {
        json["limits"].push_back({{"figure", c.figure}, {"found", c.found ? Json(millionths(*c.found)) : Json()},
                                  {"limit", c.limit}, {"met", c.met()}});
    }
    json["met"] = report.met();
    // A file's name is any bytes; JSON is UTF-8.
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tripline::replay
