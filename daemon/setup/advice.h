// Settings for a station that was measured, and what they can be expected to bear.
#pragma once

#include "daemon/setup/survey.h"

#include <string>
#include <vector>

namespace tripline::setup {

/// One of the distances that everything rests on.
struct Distance {
    const char* name;    ///< "soft voice over room"
    double found_db = 0;
    double needed_db = 0;
    std::string cure;    ///< what to change at the station when it is too small

    double margin_db() const { return found_db - needed_db; }
    bool enough() const { return margin_db() >= 0; }
};

struct Advice {
    config::Settings settings;
    std::vector<Distance> distances;   ///< soft voice over room, voice over leak, soft voice over threshold
    bool good() const;
};

/// The microphone hears the receiver: what goes against its leak was measured.
bool leak_heard(const Survey& survey);

/// Changes of `base` only what was measured. A soft voice that was not recorded is taken to be
/// 6 dB under the voice.
Advice advise(const Survey& survey, const config::Settings& base);

/// A line a distance, then a cure for each that is too small.
std::string in_words(const Advice& advice);
/// A line a figure.
std::string in_words(const Survey& survey);
/// Whether this coupling or that of tripline tune is to be trusted, a sentence in two lines; empty where no leak is heard.
std::string beside_tune(const Survey& survey);
/// That a receiver's take is too short to tell who spoke in it, see stray.h, in two lines; empty where it is not.
std::string short_take_note(const Stretches& stretches);

}  // namespace tripline::setup
