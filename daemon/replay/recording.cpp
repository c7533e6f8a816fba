#include "daemon/replay/recording.h"

#include "daemon/replay/track.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tripline::replay {
namespace {

constexpr double longest_difference_s = 0.1;

int receiver_channel(const RecordingSource& source) {
    if (source.no_receiver) return 0;
    if (source.receiver_channel != 0) return source.receiver_channel;
    return source.monitor.empty() ? 2 : 1;
}

}  // namespace

RecordingSource for_station(RecordingSource source, int receiver_channel) {
    const bool named = source.receiver_channel != 0 || !source.monitor.empty();
    source.no_receiver = source.no_receiver || (receiver_channel == 0 && !named);
    return source;
}

Recording::Recording(const RecordingSource& source)
    : microphone_(std::make_unique<Track>(source.file)),
      microphone_channel_(source.microphone_channel),
      receiver_channel_(receiver_channel(source)),
      length_(microphone_->length()) {
    microphone_->require_channel(microphone_channel_);
    if (receiver_channel_ == 0) return;
    if (!source.monitor.empty()) {
        monitor_ = std::make_unique<Track>(source.monitor);
        monitor_->require_channel(receiver_channel_);
        check_monitor(source);
        length_ = std::min(length_, monitor_->length());
        return;
    }
    if (microphone_->channels() == 1) {
        throw std::runtime_error(source.file.string() +
                                 ": has one channel; the receiver's has to come from --monitor FILE, "
                                 "or say --no-receiver (run: --set audio.receiver_channel=0)");
    }
    microphone_->require_channel(receiver_channel_);
}

Recording::~Recording() = default;

void Recording::check_monitor(const RecordingSource& source) const {
    const std::string names = source.monitor.string() + ": does not go with " + source.file.string();
    if (microphone_->rate() != monitor_->rate()) {
        throw std::runtime_error(names + ": its sample rate is " +
                                 std::to_string(std::lround(monitor_->rate().value)) + " Hz, not " +
                                 std::to_string(std::lround(microphone_->rate().value)) + " Hz");
    }
    const Frames apart = microphone_->length() - monitor_->length();
    if (std::abs(static_cast<double>(apart.count)) > longest_difference_s * rate().value) {
        throw std::runtime_error(names + ": it has " + std::to_string(monitor_->length().count) +
                                 " frames, not " + std::to_string(microphone_->length().count));
    }
}

Hertz Recording::rate() const { return microphone_->rate(); }

Recording::Block Recording::next() {
    const auto left = static_cast<std::size_t>((length_ - at_).count);
    const std::size_t count = std::min(block_frames(), left);
    const Frames frames{static_cast<std::int64_t>(count)};
    if (count == 0) return {};
    at_ += frames;
    microphone_->read(frames);
    microphone_samples_.resize(count);
    microphone_->copy_channel(microphone_channel_, microphone_samples_);
    if (receiver_channel_ == 0) return {microphone_samples_, {}};
    if (monitor_) monitor_->read(frames);
    receiver_samples_.resize(count);
    (monitor_ ? *monitor_ : *microphone_).copy_channel(receiver_channel_, receiver_samples_);
    return {microphone_samples_, receiver_samples_};
}

}  // namespace tripline::replay
