// What is wrong with settings that are each right but don't go together.
#pragma once

#include "config/load.h"

namespace tripline::config {

/// Adds its findings to the problems, except those about a key that is already in error.
void cross_check(Loaded& loaded);

}  // namespace tripline::config
