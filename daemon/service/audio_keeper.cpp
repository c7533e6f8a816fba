#include "daemon/service/audio_keeper.h"

#include <stdexcept>
#include <system_error>

namespace tripline::service {
namespace {

constexpr Duration exchange_patience = std::chrono::milliseconds{100};

template <typename Outcome>
bool is_there(const std::future<Outcome>& outcome) {
    return outcome.wait_for(std::chrono::seconds{0}) == std::future_status::ready;
}

}  // namespace

AudioKeeper::~AudioKeeper() {
    if (job_.valid()) job_.wait();
    if (parts_) parts_->source->stop();
}

void AudioKeeper::open(OpenSource open_source, const config::Settings& settings, std::string record_to,
                       Duration now) {
    condition_ = Condition::opening;
    since_ = now;
    left_out_ = !record_to.empty() && !endings_.empty();
    if (left_out_) record_to.clear();
    job_ = std::async(std::launch::async, [this, open_source = std::move(open_source), settings,
                                           record_to = std::move(record_to)] {
        return build(open_source, settings, record_to);
    });
}

std::unique_ptr<AudioKeeper::Parts> AudioKeeper::build(const OpenSource& open_source,
                                                       const config::Settings& settings,
                                                       const std::string& record_to) {
    auto parts = std::make_unique<Parts>();
    parts->source = open_source();
    const Hertz rate = parts->source->rate();
    parts->recorder = make_recorder(record_to, rate);
    doors_.recording = parts->recorder ? &parts->recorder->ring() : nullptr;
    try {
        parts->engine = std::make_unique<audio::LiveEngine>(settings.station, rate, pulse_, doors_, before_.get());
    } catch (...) {
        doors_.recording = nullptr;  // its recorder ends here
        throw;
    }
    begin_in_black_box(*parts->engine, rate, settings);
    parts->seat = std::make_unique<audio::Seat>(pulse_);
    parts->seat->take(*parts->engine);
    parts->source->start(*parts->seat);
    return parts;
}

void AudioKeeper::begin_in_black_box(audio::LiveEngine& engine, Hertz rate, const config::Settings& settings) {
    if (black_box_ == nullptr) return;
    black_box_->begin({.rate = rate, .at = engine.now(), .hop = dsp::Detector(settings.station.detector, rate).hop(),
                       .mode = engine.mode(), .memory = engine.memory(), .in_force = settings});
}

AudioKeeper::Exchange AudioKeeper::exchange_engine(const config::Settings& settings, const std::function<void()>& between) {
    if (!parts_->seat->leave(exchange_patience)) return Exchange::impossible;
    const bool at_rest = pulse_.lines.load(std::memory_order_acquire) == 0;
    const bool renewed = at_rest && renew_engine(settings, between);
    parts_->seat->take(*parts_->engine);
    if (!at_rest) return Exchange::not_at_rest;
    return renewed ? Exchange::done : Exchange::impossible;
}

bool AudioKeeper::renew_engine(const config::Settings& settings, const std::function<void()>& between) {
    if (parts_->recorder && !parts_->recorder->flush(exchange_patience)) return false;
    between();
    const Hertz rate = parts_->source->rate();
    try {
        auto next = std::make_unique<audio::LiveEngine>(settings.station, rate, pulse_, doors_, parts_->engine.get(),
                                                        station::Engine::Sound::goes_on);
        begin_in_black_box(*next, rate, settings);
        parts_->engine = std::move(next);
        return true;
    } catch (const std::invalid_argument&) {
        return false;   // opening the sound anew meets and tells it
    }
}

std::unique_ptr<audio::Recorder> AudioKeeper::make_recorder(const std::string& record_to, Hertz rate) {
    if (black_box_ == nullptr && !listener_ && record_to.empty()) return nullptr;
    audio::Recorder::Listener listener = listener_;
    if (black_box_ != nullptr) {
        listener = [box = black_box_, other = listener_](std::span<const audio::Frame> frames) {
            box->take(frames);
            if (other) other(frames);
        };
    }
    return std::make_unique<audio::Recorder>(record_to, rate, std::move(listener));
}

void AudioKeeper::close(Duration now) {
    condition_ = Condition::closing;
    since_ = now;
    job_ = std::async(std::launch::async, [this, parts = std::move(parts_)]() mutable {
        parts->source->stop();
        parts->source.reset();
        parts->seat.reset();
        before_ = std::move(parts->engine);
        return std::move(parts);  // its recorder: that waits for the disk, not for the sound
    });
}

void AudioKeeper::poll(Duration now) {
    if (job_.valid() && is_there(job_)) take_outcome();
    std::erase_if(endings_, [](const Ending& ending) { return is_there(ending.ended); });
    if (condition_ != Condition::closing || job_.valid()) return;
    const bool in_time = now - since_ < recorder_patience;
    if (!endings_.empty() && in_time) return;
    for (const Ending& ending : endings_) ending.recorder->let_listener_go();  // the next one's sound must not mix with it
    condition_ = Condition::closed;
}

void AudioKeeper::take_outcome() {
    const bool closing = condition_ == Condition::closing;
    try {
        parts_ = job_.get();
        failure_.clear();
    } catch (const std::exception& error) {
        parts_.reset();
        failure_ = error.what();
    }
    if (!closing) {
        condition_ = parts_ ? Condition::open : Condition::closed;
        return;
    }
    if (parts_ && parts_->recorder) end_recorder(std::move(parts_->recorder));
    parts_.reset();
}

void AudioKeeper::end_recorder(std::unique_ptr<audio::Recorder> recorder) {
    try {
        auto ended = std::async(std::launch::async, [recorder = recorder.get()] { recorder->end(); });
        endings_.push_back({std::move(recorder), std::move(ended)});
    } catch (const std::system_error&) {
        recorder.reset();  // no thread is left: here, then
    }
}

bool AudioKeeper::hung(Duration now) const noexcept {
    if (condition_ == Condition::opening) return now - since_ > opening_hangs_after;
    return condition_ == Condition::closing && job_.valid() && now - since_ > closing_hangs_after;
}

}  // namespace tripline::service
