#include "daemon/service/audio_keeper.h"

namespace tripline::service {

AudioKeeper::~AudioKeeper() {
    if (job_.valid()) job_.wait();
    if (parts_) parts_->source->stop();
}

void AudioKeeper::open(OpenSource open_source, const station::Settings& settings, std::string record_to,
                       Duration now) {
    condition_ = Condition::opening;
    since_ = now;
    job_ = std::async(std::launch::async, [this, open_source = std::move(open_source), settings,
                                           record_to = std::move(record_to)] {
        return build(open_source, settings, record_to);
    });
}

std::unique_ptr<AudioKeeper::Parts> AudioKeeper::build(const OpenSource& open_source,
                                                       const station::Settings& settings,
                                                       const std::string& record_to) {
    auto parts = std::make_unique<Parts>();
    parts->source = open_source();
    const Hertz rate = parts->source->rate();
    if (!record_to.empty()) parts->recorder = std::make_unique<audio::Recorder>(record_to, rate);
    doors_.recording = parts->recorder ? &parts->recorder->ring() : nullptr;
    try {
        parts->engine = std::make_unique<audio::LiveEngine>(settings, rate, pulse_, doors_, before_.get());
    } catch (...) {
        doors_.recording = nullptr;  // its recorder ends here
        throw;
    }
    parts->source->start(*parts->engine);
    return parts;
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
