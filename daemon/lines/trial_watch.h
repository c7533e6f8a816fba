// Ends the trial of a line when the program that began it can't.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/lines/device.h"
#include "dsp/units.h"

#include <sys/types.h>

namespace tripline::lines {

/// A second process with the same open device, from construction to destruction. It drives the
/// line to rest when this process dies, or when the watch has lasted longer than `limit`.
/// Destroy it once the line rests.
class TrialWatch {
public:
    TrialWatch(Device& device, const Wire& wire, Duration limit);
    ~TrialWatch();
    TrialWatch(const TrialWatch&) = delete;
    TrialWatch& operator=(const TrialWatch&) = delete;

    /// False: there is no second process, and nobody would end the trial.
    bool stands() const noexcept { return process_ > 0; }

private:
    Descriptor link_;
    pid_t process_ = -1;
};

}  // namespace tripline::lines
