#include "daemon/web/routes.h"

#include "daemon/control/prometheus.h"
#include "daemon/control/reply.h"
#include "daemon/control/words.h"
#include "daemon/station/names.h"
#include "daemon/web/assets.h"
#include "daemon/web/rehearsal.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <memory>

namespace tripline::web {
namespace {

using Json = nlohmann::ordered_json;
using control::Request;
using control::Verb;

constexpr auto who = "the page";
constexpr std::size_t shown_frames = 2UL * 60 * 25;  // two minutes

Answer refusal(unsigned status, const std::string& why) { return {status, "application/json", control::mistake(why)}; }

double tenths(Power power) { return std::round(to_dbfs(power).value * 10) / 10 + 0.0; }

double seconds(Frames frames, Hertz rate) {
    return rate.value > 0 ? std::round(static_cast<double>(frames.count) / rate.value * 1000) / 1000 : 0.0;
}

/// [seconds, microphone, receiver, leak, floor, threshold, key, cause, forced, seconds the key of this over is closed]
Json row(const audio::LevelFrame& frame, Hertz rate) {
    const dsp::Measures& m = frame.heard.measures;
    return {seconds(frame.at, rate), tenths(m.microphone), tenths(m.receiver), tenths(m.leak), tenths(m.floor),
            tenths(m.threshold), frame.key ? 1 : 0, station::name(frame.heard.cause),
            frame.mode == station::Mode::keyed ? 1 : 0, seconds(frame.on_air, rate)};
}

std::string reply_to(control::Desk& desk, Verb verb) {
    Request request;
    request.verb = verb;
    request.last = 50;
    return control::reply(desk, request, who);
}

/// A finite number between the bounds of a level, or what stands there now.
double level_of(const Json& asked, const char* member, double now) {
    const auto found = asked.find(member);
    if (found == asked.end() || !found->is_number()) return now;
    return std::clamp(found->get<double>(), -120.0, 120.0);
}

Json pairs(const std::vector<std::pair<Frames, Frames>>& spells, Hertz rate) {
    Json list = Json::array();
    for (const auto& [from, to] : spells) list.push_back({seconds(from, rate), seconds(to, rate)});
    return list;
}

}  // namespace

Answer Routes::get(const std::string& path, std::uint64_t since) const {
    if (const Asset* const asset = asset_at(path)) return {200, asset->type, std::string(asset->body)};
    if (path == "/api/levels") return levels(since);
    if (path == "/api/status") return status();
    if (path == "/api/settings") return {.body = reply_to(desk_, Verb::settings)};
    if (path == "/api/overs") return {.body = reply_to(desk_, Verb::overs)};
    if (path == "/api/study") return {.body = study_ == nullptr ? "{}" : study_->outcome()};
    if (path == "/metrics") {
        return {200, "text/plain; version=0.0.4", control::prometheus(reply_to(desk_, Verb::metrics))};
    }
    return refusal(404, "there is nothing of this name");
}

std::variant<Answer, Later> Routes::post(const std::string& path, const std::string& body) const {
    if (path == "/api") return change(body);
    if (path == "/api/try") return try_thresholds(body);
    if (path == "/api/measure") return begin_study(study::Study::Subject::measures, body);
    if (path == "/api/margins") return begin_study(study::Study::Subject::margins, body);
    return refusal(404, "there is nothing of this name");
}

/// As at the control socket, with what the page may do and whether the station has receiver audio.
Answer Routes::status() const {
    Json status = Json::parse(reply_to(desk_, Verb::status));
    status["may_transmit"] = may_transmit_;
    const auto settings = desk_.view().settings;
    status["receiver"] = !settings || settings->audio.receiver_channel != 0;
    return {.body = status.dump()};
}

Answer Routes::levels(std::uint64_t since) const {
    const Hertz rate = desk_.view().rate;
    const std::uint64_t so_far = desk_.levels_so_far();
    since = std::max(since, so_far - std::min<std::uint64_t>(so_far, shown_frames));
    Json answer;
    answer["levels"] = Json::array();
    for (const auto& frame : desk_.levels(since, shown_frames)) answer["levels"].push_back(row(frame, rate));
    answer["next"] = since;
    return {.body = answer.dump()};
}

std::variant<Answer, Later> Routes::change(const std::string& body) const {
    const control::Parsed parsed = control::parse(body);
    if (const auto* wrong = std::get_if<std::string>(&parsed)) return refusal(400, *wrong);
    const auto& request = std::get<Request>(parsed);
    const bool forces = request.verb == Verb::mode && request.mode == station::Mode::keyed;
    if (forces && !may_transmit_) return refusal(403, "the page may not force the key; see web.may_transmit");
    if (request.verb == Verb::page) return refusal(403, "the token is told at the control socket only");
    if (control::changes(request.verb)) return put(request);
    return Answer{.body = control::reply(desk_, request, who)};
}

/// At the desk at once, in the order in which they come; what is written to the disk waits for the worker.
std::variant<Answer, Later> Routes::put(const control::Request& request) const {
    if (request.verb == Verb::save) return Later{[this, request] { return Answer{.body = control::reply(desk_, request, who)}; }};
    const auto outcome = std::make_shared<std::future<control::Outcome>>(desk_.put(request, who));
    const auto until = std::chrono::steady_clock::now() + control::answer_within;
    const auto answered = [request, outcome, until] {
        outcome->wait_until(until);
        return Answer{.body = control::answer(request, control::outcome_of(std::move(*outcome)))};
    };
    if (control::is_known(*outcome)) return answered();
    return Later{answered, request.is_safe()};
}

Answer Routes::begin_study(study::Study::Subject subject, const std::string& body) const {
    if (study_ == nullptr) return refusal(503, "no sound is kept; see black_box.keep_s and black_box.folder");
    if (!study_->begin(subject, body)) return refusal(409, "something is being worked out already");
    return {.status = 202, .body = R"({"ok":true})"};
}

Answer Routes::try_thresholds(const std::string& body) const {
    const Json asked = Json::parse(body, nullptr, false);
    if (!asked.is_object()) return refusal(400, "a request is an object");
    const control::StationView view = desk_.view();
    if (!view.settings || view.rate.value <= 0) return refusal(503, "no sound is open");
    const dsp::DetectorSettings& detector = view.settings->station.detector;
    Trial trial{detector.gate, detector.gate, detector.hold};
    trial.now.open.value = level_of(asked, "open_dbfs", trial.now.open.value);
    trial.now.above_floor.value = level_of(asked, "above_floor_db", trial.now.above_floor.value);
    std::uint64_t since = desk_.levels_so_far() - std::min<std::uint64_t>(desk_.levels_so_far(), shown_frames);
    const auto frames = desk_.levels(since, shown_frames);
    Json answer;
    answer["spells"] = pairs(rehearse(frames, trial, view.rate), view.rate);
    return {.body = answer.dump()};
}

}  // namespace tripline::web
