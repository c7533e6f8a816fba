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

/// Of the reason that kept the station off the air, the hop in a stretch that came nearest to keying; null as above. It is the
/// reason of the moment asked for, if that stood over the threshold, else the one that lasted longest: where something stood
/// out of the noise of the room for 50 ms at least, of such hops alone.
const Hop* blamed(const Account& account, const replay::Span& within, Duration at, const dsp::GateSettings& gate);

/// Sentences, indented.
std::string silence_in_words(const Account& account, const replay::Span& within, Duration at, const station::Settings& settings);

/// What might have keyed it. `hop` is the blamed one.
std::vector<Knob> knobs_to_key(const Hop& hop, const config::Settings& settings);

}  // namespace tripline::explain
