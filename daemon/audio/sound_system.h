// The sound library, open for as long as the object lives. One at a time, because the
// list of devices is fixed when it is opened: to see a new device, open it again.
#pragma once

#include "daemon/audio/device_name.h"

#include <vector>

namespace tripline::audio {

class SoundSystem {
public:
    /// Throws Error.
    SoundSystem();
    ~SoundSystem();
    SoundSystem(const SoundSystem&) = delete;
    SoundSystem& operator=(const SoundSystem&) = delete;

    std::vector<Device> devices() const;
};

}  // namespace tripline::audio
