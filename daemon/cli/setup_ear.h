// Sound for a guided session, from the devices or from a recording played as if live.
#pragma once

#include "daemon/service/options.h"
#include "daemon/setup/guide.h"

#include <mutex>

namespace tripline::cli {

/// The station's own way of sound, in mode safe: the receiver is heard in the loudspeaker if it goes
/// through the daemon, and nothing is keyed, since there is no guard. All of it is recorded.
class SetupEar final : public setup::Ear {
public:
    /// `request.record_to` is where the session is recorded. Throws std::runtime_error when there
    /// is no sound to be had.
    explicit SetupEar(const service::Options& request);
    /// Closes the sound, if close() did not.
    ~SetupEar() override;

    Hertz rate() const override { return rate_; }
    setup::Take listen(Duration length, const std::function<void(std::span<const setup::Frame>)>& meter) override;
    /// The recording is complete then. Throws std::runtime_error when it is not.
    void close();

private:
    void take(std::span<const setup::Frame> frames);
    void wait_while(service::AudioKeeper::Condition condition);

    std::mutex mutex_;
    Frames heard_;                       // under mutex_, as the two below
    bool wanted_ = false;
    std::vector<setup::Frame> taken_;
    audio::Pulse pulse_;
    audio::Doors doors_;
    service::AudioKeeper keeper_{pulse_, doors_};
    Hertz rate_{};
};

}  // namespace tripline::cli
