#include "daemon/service/audio_keeper.h"

namespace tripline::service {

AudioKeeper::~AudioKeeper() {
    if (job_.valid()) job_.wait();
    if (parts_) parts_->source->stop();
}

void AudioKeeper::open(OpenSource open_source, const config::Settings& settings, std::string record_to,
                       Duration now) {
    condition_ = Condition::opening;
    since_ = now;
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
    if (black_box_ != nullptr) {
        black_box_->begin({.rate = rate, .at = parts->engine->now(), .hop = dsp::Detector(settings.station.detector, rate).hop(),
                           .mode = parts->engine->mode(), .memory = parts->engine->memory(), .in_force = settings});
    }
    parts->source->start(*parts->engine);
    return parts;
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
        before_ = std::move(parts->engine);
        return std::unique_ptr<Parts>{};
    });
}

void AudioKeeper::poll() {
    if (!job_.valid() || job_.wait_for(std::chrono::seconds{0}) != std::future_status::ready) return;
    try {
        parts_ = job_.get();
        failure_.clear();
    } catch (const std::exception& error) {
        parts_.reset();
        failure_ = error.what();
    }
    condition_ = parts_ ? Condition::open : Condition::closed;
}

bool AudioKeeper::hung(Duration now) const noexcept {
    if (condition_ == Condition::opening) return now - since_ > opening_hangs_after;
    return condition_ == Condition::closing && now - since_ > closing_hangs_after;
}

}  // namespace tripline::service
