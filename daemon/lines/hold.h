// One holder a device, however many names it has.
#pragma once

#include "daemon/lines/descriptor.h"
#include "daemon/lines/device.h"

namespace tripline::lines {

/// Locks the open device (flock, on the file itself and not on its name) until it is closed.
/// Throws OpenError with EBUSY, naming the holder if the kernel tells it. It keeps out another
/// guard, `tripline release` and `tripline lines`; programs that ask for no lock it does not.
void hold_alone(const Descriptor& device, const Wire& wire);

/// Whether two paths lead to one file, or to nodes of one device. Of paths that cannot be
/// followed, only the same text is the same.
bool same_device(const std::string& a, const std::string& b);

}  // namespace tripline::lines
