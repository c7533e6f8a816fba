// Why nothing was keyed at a time.
#pragma once

#include "daemon/explain/account.h"
#include "daemon/explain/remedy.h"

#include <string>

namespace tripline::explain {

/// The stretch around a time that counts for it: half a second to either side, as far as no
/// transmission reaches.
replay::Span surroundings(const Account& account, Duration at);

/// The hop within a stretch that came nearest to keying; null when the account has none there.
const Hop* nearest_to_keying(const Account& account, const replay::Span& within);

/// Sentences, indented.
std::string silence_in_words(const Account& account, const replay::Span& within, const station::Settings& settings);

/// What might have keyed it.
std::vector<Knob> knobs_to_key(const Hop& nearest, const dsp::DetectorSettings& settings);

}  // namespace tripline::explain
