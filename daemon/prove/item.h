// One recording of a suite, with all that is needed to judge it.
#pragma once

#include "daemon/replay/examine.h"

#include <string>

namespace tripline::prove {

struct Item {
    std::string name;
    replay::RecordingSource source;
    replay::LabelSet labels;
    station::Settings settings;
    /// Without a word nothing may be missed, torn, falsely keyed or held on.
    replay::Limits limits{.missed = 0, .torn = 0, .false_keys = 0, .held_on = 0};
};

}  // namespace tripline::prove
