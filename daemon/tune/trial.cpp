#include "daemon/tune/trial.h"

#include "daemon/station/engine.h"

#include <algorithm>
#include <exception>
#include <memory>
#include <mutex>
#include <span>
#include <thread>

namespace tripline::tune {
namespace {

/// One setting on its way through a recording.
class Player final : public station::EventSink {
public:
    Player(const station::Settings& settings, Hertz rate)
        : engine_(settings, rate), book_(rate), timing_(replay::timing_of(settings)) {}

    void take(const station::Event& event) noexcept override { kept_.push_back(event); }

    void process(const replay::Recording::Block& block) {
        engine_.process({.microphone = block.microphone, .receiver = block.receiver}, *this);
        for (const auto& event : kept_) book_.take(event);
        kept_.clear();
    }
    replay::Score score(const replay::Spans& speech, Duration length) {
        book_.close(engine_.now());
        return replay::score(speech, book_.spells(), timing_, length);
    }

private:
    station::Engine engine_;
    replay::SpellBook book_;
    replay::Timing timing_;
    std::vector<station::Event> kept_;
};

/// What all workers share.
class Tally {
public:
    Tally(double whole, const std::function<void(double)>& progress) : whole_(whole), progress_(progress) {}
    void add(double part) {
        const std::scoped_lock lock(mutex_);
        done_ += part;
        if (progress_) progress_(done_ / whole_);
    }
    void fail() {
        const std::scoped_lock lock(mutex_);
        if (!failure_) failure_ = std::current_exception();
    }
    void rethrow() const {
        if (failure_) std::rethrow_exception(failure_);
    }

private:
    std::mutex mutex_;
    double whole_;
    double done_ = 0;
    const std::function<void(double)>& progress_;
    std::exception_ptr failure_;
};

void try_recording(const replay::RecordingSource& source, const replay::LabelSet& labels,
                   std::span<const station::Settings> settings, std::span<replay::Score> scores, Tally& tally) {
    replay::Recording recording(source);
    const Duration length = to_duration(recording.length(), recording.rate());
    const auto speech = replay::operator_speech(labels, source, length);
    std::vector<std::unique_ptr<Player>> players;
    for (const auto& each : settings) players.push_back(std::make_unique<Player>(each, recording.rate()));
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        for (const auto& player : players) player->process(block);
        const double share = static_cast<double>(block.microphone.size()) / static_cast<double>(recording.length().count);
        tally.add(share * static_cast<double>(settings.size()));
    }
    for (std::size_t i = 0; i < players.size(); ++i) scores[i] += players[i]->score(speech, length);
}

}  // namespace

std::vector<replay::Score> try_all(const std::vector<replay::RecordingSource>& recordings,
                                   const replay::LabelSet& labels,
                                   const std::vector<station::Settings>& settings, unsigned workers,
                                   const std::function<void(double)>& progress) {
    std::vector<replay::Score> scores(settings.size());
    Tally tally(static_cast<double>(settings.size() * recordings.size()), progress);
    const std::size_t share = (settings.size() + workers - 1) / std::max(1U, workers);
    const auto work = [&](std::size_t from) {
        const std::size_t count = std::min(share, settings.size() - from);
        try {
            for (const auto& recording : recordings) {
                try_recording(recording, labels, std::span(settings).subspan(from, count),
                              std::span(scores).subspan(from, count), tally);
            }
        } catch (...) {
            tally.fail();
        }
    };
    {
        std::vector<std::jthread> threads;
        for (std::size_t from = 0; from < settings.size(); from += share) threads.emplace_back(work, from);
    }
    tally.rethrow();
    return scores;
}

}  // namespace tripline::tune
