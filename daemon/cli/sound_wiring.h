// The lines of a configuration that may be touched although something in it is wrong.
#pragma once

#include "config/load.h"

namespace tripline::cli {

struct SoundWiring {
    lines::Wiring wiring;  ///< a role that may not be touched is Kind::none
    /// Why it may not, by role; empty for the others.
    std::array<std::string, lines::all_roles.size()> reasons;
};

/// A role is left out if what tells its wire and its resting level is wrong (kind, device, pin,
/// active, or a key that seems to be a misspelling of one): it might be another pin that is
/// meant. A mistake in its times is no reason to leave a line as it is.
SoundWiring sound_wiring(const config::Loaded& loaded);

}  // namespace tripline::cli
