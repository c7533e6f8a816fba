// The last remedy against a library that hangs.
#pragma once

#include "daemon/station/state.h"

namespace tripline::service {

/// Runs this program anew with the same arguments in the same process: every thread ends,
/// every file but the standard three closes, the process id and the service manager's
/// environment stay. The operator's mode is kept, but a forced key comes back as safe; so is how
/// often the sound was `opened`. Ends with status 1 when that fails.
[[noreturn]] void start_afresh(station::Mode mode, unsigned opened);

/// The mode kept by start_afresh(); `start` when this is no such start. Forgets it: another
/// program started from here does not get it.
station::Mode take_kept_mode(station::Mode start);
/// The same of how often the sound was opened; 0 when this is no such start.
unsigned take_kept_opened();

}  // namespace tripline::service
