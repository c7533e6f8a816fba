#include "daemon/tune/trial.h"

#include "daemon/tune/audience.h"

#include <algorithm>
#include <future>
#include <tuple>
#include <utility>

namespace tripline::tune {
namespace {

/// Those of the trials that go on, and how.
class Round {
public:
    Round(const std::vector<station::Settings>& all, std::vector<Trial>& trials) : trials_(trials) {
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (!trials[i].given_up) places_.push_back(i);
        }
        for (const std::size_t place : places_) settings_.push_back(all[place]);
    }
    const std::vector<station::Settings>& settings() const { return settings_; }
    bool empty() const { return places_.empty(); }

    void add(const Audience& audience, const replay::Spans& speech, Duration length, Until until) {
        for (std::size_t i = 0; i < places_.size(); ++i) {
            Trial& trial = trials_[places_[i]];
            const auto timing = replay::timing_of(settings_[i]);
            trial.given_up = audience.given_up(i);
            if (trial.given_up) continue;
            trial.score += replay::score(speech, audience.spells(i), timing, length);
            if (until == Until::first_mistake) trial.given_up = first(replay::mistakes(speech, audience.spells(i), timing));
        }
    }

private:
    static std::optional<replay::MistakeKind> first(const std::vector<replay::Mistake>& mistakes) {
        const auto found = std::ranges::find_if(mistakes, [](const auto& m) { return m.kind != replay::MistakeKind::clipped; });
        if (found == mistakes.end()) return std::nullopt;
        return found->kind;
    }

    std::vector<Trial>& trials_;
    std::vector<std::size_t> places_;
    std::vector<station::Settings> settings_;
};

void try_recording(const replay::RecordingSource& source, const replay::LabelSet& labels, Round& round, Until until,
                   unsigned workers, const std::function<void(Frames, Frames)>& progress) {
    replay::Recording recording(source);
    const Duration length = to_duration(recording.length(), recording.rate());
    const auto speech = replay::operator_speech(labels, source, length);
    Audience audience(round.settings(), recording.rate(), workers, until == Until::first_mistake ? std::optional(speech) : std::nullopt);
    const auto listen = [&] {
        Page page = read_page(recording);
        auto heard = audience.hear(page);
        return std::pair(std::move(page), std::move(heard));
    };
    const auto when = workers > 1 ? std::launch::async : std::launch::deferred;
    auto next = std::async(when, listen);
    Frames at;
    for (auto [page, heard] = next.get(); !page.microphone.empty() && !audience.done(); std::tie(page, heard) = next.get()) {
        next = std::async(when, listen);
        audience.judge(page, heard);
        at += page.length();
        progress(at, recording.length());
    }
    audience.close(at);
    round.add(audience, speech, length, until);
}

}  // namespace

std::vector<Trial> try_all(const std::vector<replay::RecordingSource>& recordings, const replay::LabelSet& labels,
                           const std::vector<station::Settings>& settings, Until until, unsigned workers,
                           const std::function<void(double)>& progress) {
    std::vector<Trial> trials(settings.size());
    for (std::size_t i = 0; i < recordings.size(); ++i) {
        Round round(settings, trials);
        if (round.empty()) break;
        try_recording(recordings[i], labels, round, until, workers, [&](Frames at, Frames of) {
            const double within = static_cast<double>(at.count) / static_cast<double>(of.count);
            if (progress) progress((static_cast<double>(i) + within) / static_cast<double>(recordings.size()));
        });
    }
    return trials;
}

std::vector<Trial> explore(const std::vector<replay::RecordingSource>& recordings, const replay::LabelSet& labels,
                           const std::vector<station::Settings>& settings, unsigned workers,
                           const std::function<void(double)>& progress) {
    auto trials = try_all(recordings, labels, settings, Until::first_mistake, workers, progress);
    if (std::ranges::any_of(trials, &Trial::good)) return trials;
    return try_all(recordings, labels, settings, Until::the_end, workers, progress);
}

}  // namespace tripline::tune
