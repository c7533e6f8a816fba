// One stream of the sound library with its channels apart, as an object that closes itself.
#pragma once

#include "daemon/audio/device_name.h"
#include "daemon/audio/settings.h"

#include <portaudio.h>

namespace tripline::audio {

class SoundStream {
public:
    /// Opens `device` for float samples, one array a channel. Throws Error.
    SoundStream(const Device& device, Need channels, const Settings& settings, PaStreamCallback* callback,
                void* context);
    /// Stops as well. Can hang when the sound server hangs: call where that is bounded.
    ~SoundStream();
    SoundStream(const SoundStream&) = delete;
    SoundStream& operator=(const SoundStream&) = delete;

    void start();  ///< Throws Error.
    void stop() noexcept;
    bool active() const noexcept;
    Hertz rate() const noexcept;

private:
    PaStream* stream_ = nullptr;
    std::string name_;
};

}  // namespace tripline::audio
