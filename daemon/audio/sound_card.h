// Live sound: one duplex device, or a microphone device and a monitor device.
#pragma once

#include "daemon/audio/monitor_bridge.h"
#include "daemon/audio/pulse.h"
#include "daemon/audio/settings.h"
#include "daemon/audio/sound_stream.h"
#include "daemon/audio/sound_system.h"
#include "daemon/audio/source.h"

#include <memory>
#include <vector>

namespace tripline::audio {

/// What the settings need of the microphone's device, and of the monitor's.
Need microphone_need(const Settings& settings);
Need monitor_need(const Settings& settings);

class SoundCard final : public Source {
public:
    /// Opens the devices by name. `pulse` counts the blocks of a second device. Throws Error.
    SoundCard(const Settings& settings, Pulse& pulse);
    ~SoundCard() override { SoundCard::stop(); }

    void start(BlockHandler& handler) override;
    void stop() noexcept override;
    Hertz rate() const noexcept override { return stream_->rate(); }
    bool ended() const noexcept override;
    std::string description() const override { return description_; }

private:
    static int on_block(const void* in, void* out, unsigned long frames, const PaStreamCallbackTimeInfo*,
                        PaStreamCallbackFlags flags, void* self);
    static int on_monitor_block(const void* in, void* out, unsigned long frames, const PaStreamCallbackTimeInfo*,
                                PaStreamCallbackFlags flags, void* self);
    void open_monitor(const std::vector<Device>& devices);
    void deliver(const float* const* in, float* const* out, std::size_t offset, std::size_t frames) noexcept;

    // Set before start(), then read by the callbacks.
    Settings settings_;
    Pulse& pulse_;
    BlockHandler* handler_ = nullptr;
    std::string description_;
    // The microphone's callback.
    std::vector<float> bridged_;
    // Both callbacks, one at each end.
    std::unique_ptr<MonitorBridge> bridge_;
    // The owner's thread. Declared in this order: the streams close before the library.
    SoundSystem system_;
    std::unique_ptr<SoundStream> monitor_;
    std::unique_ptr<SoundStream> stream_;
    bool started_ = false;
};

}  // namespace tripline::audio
