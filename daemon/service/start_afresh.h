// The last remedy against a library that hangs.
#pragma once

namespace tripline::service {

/// Runs this program anew with the same arguments in the same process: every thread ends,
/// every file but the standard three closes, the process id and the service manager's
/// environment stay. Ends with status 1 when that fails.
[[noreturn]] void start_afresh();

}  // namespace tripline::service
