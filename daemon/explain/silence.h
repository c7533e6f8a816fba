// Why nothing was keyed at a time.
#pragma once

#include "daemon/explain/account.h"
#include "daemon/explain/remedy.h"

#include <string>

namespace tripline::explain {

/// What is asked for: a time, or all of a stretch from there on, without any one moment of it.
struct Moment {
    Duration at{};
    Duration within{0};
    bool is_stretch() const { return within > Duration{0}; }
};

/// The stretch that counts for a moment: half a second to either side, or the one that is asked for, as far as no
/// transmission reaches.
replay::Span surroundings(const Account& account, const Moment& moment);

/// The hop within a stretch that came nearest to keying; null when the account has none there.
const Hop* nearest_to_keying(const Account& account, const replay::Span& within);

/// Of the reason that kept the station off the air, the hop in a stretch that came nearest to keying; null as above. It is the
/// reason of the time asked for, if that stood over the threshold, else the one that lasted longest: where something stood
/// out of the noise of the room for 50 ms at least, of such hops alone.
const Hop* blamed(const Account& account, const replay::Span& within, const Moment& moment, const dsp::GateSettings& gate);

/// Sentences, indented.
std::string silence_in_words(const Account& account, const replay::Span& within, const Moment& moment, const station::Settings& settings);

/// What might have keyed it. `hop` is the blamed one.
std::vector<Knob> knobs_to_key(const Hop& hop, const config::Settings& settings);

}  // namespace tripline::explain
