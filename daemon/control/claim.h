// The control socket, taken for this station alone.
#pragma once

#include "daemon/control/listener.h"

#include <memory>
#include <string>

namespace tripline::control {

/// At start-up, before a line is driven. Of several stations that start in the same instant one gets it: they take turns at
/// the lock of the socket's folder. Throws AnotherStation, or what Listener throws.
std::unique_ptr<Listener> claim(const std::string& path);

}  // namespace tripline::control
