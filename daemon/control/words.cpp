#include "daemon/control/words.h"

#include "config/keys.h"
#include "config/live.h"
#include "daemon/logbook/line.h"
#include "daemon/replay/level_members.h"
#include "daemon/station/names.h"
#include "tripline/version.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace tripline::control {
namespace {

using Json = nlohmann::ordered_json;

double seconds(Duration duration) { return std::round(std::chrono::duration<double>(duration).count() * 1000) / 1000; }

Json answer_to(const Request& request, bool good) {
    Json line;
    line["re"] = name(request.verb);
    if (request.id) line["id"] = *request.id;
    line["ok"] = good;
    return line;
}

/// Texts may hold what a device or a client called itself.
std::string text_of(const Json& line) { return line.dump(-1, ' ', false, Json::error_handler_t::replace); }

Json echo_of(const StationView& view) {
    if (!view.echo) return nullptr;
    const auto tenth = [](float value) { return std::round(static_cast<double>(value) * 10) / 10; };
    Json echo;
    echo["sure"] = view.echo->sure;
    echo["explained_percent"] = tenth(100 * view.echo->confidence);
    echo["reduction_db"] = tenth(view.echo->reduction_db);
    echo["delay_ms"] = view.echo->sure ? Json(tenth(view.echo->delay_ms)) : Json(nullptr);
    echo["clocks_differ"] = view.echo->clocks_differ;
    echo["drift_ppm"] = tenth(view.echo->drift_ppm);
    return echo;
}

Json captures_of(const Captures& captures) {
    Json told{{"asked", captures.asked}, {"ended", captures.ended}, {"kept", Json::array()}, {"last", Json::array()}};
    for (const Heard& heard : captures.kept) told["kept"].push_back({{"began", logbook::time_text(heard.began)}, {"ended", logbook::time_text(heard.ended)}});
    for (const Capture& capture : captures.last) {
        Json one{{"number", capture.number}};
        if (capture.sound.empty()) {
            one["failure"] = capture.failure;
        } else {
            one["sound"] = capture.sound;
            one["began"] = logbook::time_text(capture.began);
            one["ended"] = logbook::time_text(capture.ended);
        }
        told["last"].push_back(std::move(one));
    }
    return told;
}

}  // namespace

std::string greeting() { return text_of({{"tripline", protocol_version}, {"version", version}}); }

std::string answer(const Request& request, const Outcome& outcome) {
    Json line = answer_to(request, outcome.good);
    if (!outcome.text.empty()) line[outcome.good ? "did" : "why"] = outcome.text;
    return text_of(line);
}

std::string mistake(std::string_view what) {
    Json line;
    line["ok"] = false;
    line["why"] = what;
    return text_of(line);
}

std::string status(const Request& request, const StationView& view) {
    Json line = answer_to(request, true);
    line["version"] = version;
    line["process"] = view.process;
    line["phase"] = view.phase;
    line["trouble"] = view.trouble;
    line["missing"] = view.missing;
    line["mode"] = station::name(view.wanted);
    line["mode_taken"] = station::name(view.mode);
    line["state"] = station::name(view.state);
    line["reason"] = view.reason;
    line["quiet_awaited"] = view.quiet_awaited;
    line["key"] = view.driven.ptt;
    line["mute"] = view.driven.mute;
    line["antenna"] = view.driven.antenna;
    line["echo"] = echo_of(view);
    line["identify"] = view.identify;
    line["overs"] = view.counters.overs;
    line["keyed_s"] = seconds(view.counters.keyed);
    line["longest_over_s"] = seconds((view.settings ? *view.settings : config::Settings{}).station.limits.longest_over);
    line["sound"] = view.sound;
    line["rate_hz"] = view.rate.value;
    line["captures"] = captures_of(view.captures);
    line["settings_file"] = view.settings_file;
    line["not_saved"] = view.set;
    line["settings_pending"] = view.settings_pending;
    return text_of(line);
}

std::string settings(const Request& request, const StationView& view) {
    Json line = answer_to(request, true);
    Json list = Json::array();
    for (const config::Key& key : config::all_keys()) {
        if (!view.settings || !config::changes_live(key)) continue;
        Json one;
        one["key"] = key.path;
        one["value"] = config::to_toml(key.read(*view.settings));
        one["unit"] = key.unit;
        one["allowed"] = config::allowed(key);
        one["summary"] = key.summary;
        list.push_back(std::move(one));
    }
    line["settings"] = std::move(list);
    return text_of(line);
}

std::string metrics(const Request& request, const StationView& view) {
    const Counters& counters = view.counters;
    Json line = answer_to(request, true);
    line["running"] = view.phase == "running";
    line["key"] = view.driven.ptt;
    line["overs"] = counters.overs;
    line["keyed_s"] = seconds(counters.keyed);
    line["blocks"] = counters.blocks;
    line["blocks_flagged"] = counters.blocks_flagged;
    line["events_lost"] = counters.events_lost;
    line["keying_late"] = counters.keying_late;
    line["guard_starts"] = counters.guard_starts;
    return text_of(line);
}

std::string overs(const Request& request, const std::vector<logbook::Over>& overs) {
    Json line = answer_to(request, true);
    Json list = Json::array();
    for (const logbook::Over& over : overs) {
        Json one = Json::parse(logbook::over_line(over));
        one["mark"] = name(over.mark);
        list.push_back(std::move(one));
    }
    line["overs"] = std::move(list);
    return text_of(line);
}

std::string level(const audio::LevelFrame& frame, Hertz rate) {
    Json one;
    one["frame"] = frame.at.count;
    one["state"] = station::name(frame.state);
    one["mode"] = station::name(frame.mode);
    one["key"] = frame.key;
    one["cause"] = station::name(frame.heard.cause);
    replay::add_levels(one, frame.heard.measures);
    one["on_air_s"] = rate.value > 0 ? seconds(to_duration(frame.on_air, rate)) : 0.0;
    return text_of({{"level", std::move(one)}});
}

std::string event(std::string_view line) { return "{\"event\":" + std::string(line) + "}"; }

}  // namespace tripline::control
