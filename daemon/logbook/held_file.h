// One station a log.
#pragma once

#include "daemon/lines/descriptor.h"

#include <string>

namespace tripline::logbook {

/// Opens the file of a log to be added to, makes it when it is not there, and keeps other stations out until the
/// descriptor is closed: two of them would give the same number to different overs. Waits for nobody. Throws
/// std::runtime_error when it cannot be written, is a pipe or another that is no file, or another station holds it.
lines::Descriptor hold(const std::string& path);

}  // namespace tripline::logbook
