// The lines of a configuration that may be touched although something in it is wrong.
#pragma once

#include "config/load.h"

namespace tripline::cli {

/// The wiring; a role with a mistake in its own table is left out (Kind::none), since it might
/// be another pin that is meant.
lines::Wiring sound_wiring(const config::Loaded& loaded);

}  // namespace tripline::cli
