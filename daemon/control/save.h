// What was set while running, into the settings file.
#pragma once

#include "daemon/control/desk.h"

#include <exception>

namespace tripline::control {

/// What a change did or, if it threw, why not: whoever waits for the answer is told.
template <class Change> Outcome told(Change change) {
    try {
        return change();
    } catch (const std::exception& error) {
        return {false, error.what()};
    }
}

/// Any thread but the service's. Reads and writes the file, so it may wait for the disk.
Outcome save(Desk& desk, const std::string& by);

}  // namespace tripline::control
