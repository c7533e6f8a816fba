#include "daemon/study/measures.h"

#include "daemon/setup/advice.h"
#include "daemon/setup/proof.h"
#include "daemon/setup/take.h"
#include "daemon/study/changes.h"
#include "daemon/study/refusal.h"
#include "daemon/study/temporary_sound.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace tripline::study {
namespace {

constexpr Duration moment = std::chrono::seconds{1};

Duration in_time(const Json& seconds, Duration begin) {
    constexpr double a_day = 86400 * 365;
    const double value = seconds.is_number() ? seconds.get<double>() : std::nan("");
    if (!(value >= 0 && value < a_day)) throw Refusal("a take is from and to, in seconds of the stream");
    return std::chrono::duration_cast<Duration>(std::chrono::duration<double>(value)) - begin;
}

/// From the beginning of the sound kept, how long it is.
struct Kept {
    Duration begin;
    Duration length;
};

Kept extent_of(const black_box::KeptSound& kept) {
    Frames frames;
    for (const auto& chunk : kept.past) frames += Frames{static_cast<std::int64_t>(chunk->size())};
    return {to_duration(kept.begin, kept.rate), to_duration(frames, kept.rate)};
}

/// Counted from the beginning of the sound kept. The last moment of a take may not be kept yet.
replay::Span take(const Json& request, const char* name, const Kept& kept) {
    const auto found = request.find(name);
    if (found == request.end() || !found->is_array() || found->size() != 2)
        throw Refusal(std::string("the take of the ") + name + " is missing");
    replay::Span span{in_time((*found)[0], kept.begin), in_time((*found)[1], kept.begin)};
    if (span.begin < Duration::zero())
        throw Refusal(std::string("the take of the ") + name + " is no longer kept: take it again");
    if (span.end > kept.length + moment)
        throw Refusal(std::string("the take of the ") + name + " ends after the sound that is kept: take it again");
    span.end = std::min(span.end, kept.length);
    return span;
}

setup::Stretches stretches_in(const std::string& request, const Kept& kept, bool with_receiver) {
    const Json json = Json::parse(request, nullptr, false);
    if (!json.is_object()) throw Refusal("a request is an object");
    setup::Stretches stretches{take(json, "room", kept), {}, take(json, "voice", kept), {}};
    if (with_receiver) stretches.receiver = take(json, "receiver", kept);
    if (json.contains("soft")) stretches.soft = take(json, "soft", kept);
    return stretches;
}

Json distances_of(const setup::Advice& advice) {
    Json list = Json::array();
    for (const setup::Distance& d : advice.distances) {
        list.push_back({{"name", d.name}, {"found_db", std::round(d.found_db * 10) / 10}, {"needed_db", d.needed_db},
                        {"cure", d.enough() ? std::string() : d.cure}});
    }
    return list;
}

/// Armed, whatever the station begins in: what the settings would key is in question.
setup::Proof replayed(const replay::RecordingSource& source, const setup::Stretches& stretches, station::Settings settings,
                      const std::function<void(double share)>& progress) {
    settings.start_mode = station::Mode::armed;
    return setup::prove(source, stretches, settings, {.event = {}, .progress = [&progress](Frames) { progress(1); }});
}

}  // namespace

std::string measures(const black_box::KeptSound& kept, const std::string& request,
                     const std::function<void(double share)>& progress) {
    const int receiver_channel = kept.in_force.audio.receiver_channel;
    const setup::Stretches stretches = stretches_in(request, extent_of(kept), receiver_channel != 0);
    const TemporarySound sound(kept);
    const auto source = replay::for_station(sound.source(), receiver_channel);
    const setup::Survey survey =
        setup::survey(source, stretches, kept.in_force.station.detector.band, progress);
    const setup::Advice advice = setup::advise(survey, kept.in_force);
    const std::vector<std::string> troubles = setup::troubles(source, stretches);
    const setup::Proof proof = replayed(source, stretches, advice.settings.station, progress);
    Json answer;
    answer["troubles"] = troubles;
    answer["measured"] = setup::in_words(survey);
    answer["distances"] = distances_of(advice);
    answer["changes"] = changes_of(kept.in_force, advice.settings);
    answer["replayed"] = setup::in_words(proof);
    answer["good"] = advice.good() && troubles.empty() && proof.good();
    return answer.dump();
}

}  // namespace tripline::study
