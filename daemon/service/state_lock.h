// One daemon a state folder.
#pragma once

#include "daemon/lines/descriptor.h"

#include <string>

namespace tripline::service {

/// Held as long as the daemon runs, and given up by its end of whatever kind. A second daemon with the same
/// folder would overwrite the wiring that is kept there for `tripline release`, and the mode that outlives a restart.
class StateLock {
public:
    /// An empty folder, or one that cannot be written: nothing is held. Throws std::runtime_error when another
    /// process holds it.
    explicit StateLock(const std::string& folder);

    /// Why nothing is held; empty when something is, or there is no folder.
    const std::string& failure() const { return failure_; }

private:
    lines::Descriptor file_;
    std::string failure_;
};

}  // namespace tripline::service
