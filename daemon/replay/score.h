// How well the station keyed, against labels of who spoke when.
#pragma once

#include "daemon/replay/detection_cost.h"
#include "daemon/replay/spell.h"

#include <vector>

namespace tripline::replay {

using std::chrono_literals::operator""ms;

/// What of the station's settings the score has to know.
struct Timing {
    Duration hold{};         ///< spurts with shorter gaps make one over
    Duration relay{};        ///< decision to transmitter ready
    Duration transmitter{};  ///< of that, key closed to transmitter ready
    Duration look_ahead{};   ///< delay of the audio on its way to the transmitter
};

Timing timing_of(const station::Settings& settings);

/// A key that closes up to this long before a label begins (a breath) is not false.
inline constexpr Duration early_tolerance = 200ms;
/// A key closed this much longer than the hang time after an over, before the next one, was
/// held by something else.
inline constexpr Duration held_on_limit = 1000ms;

/// An over that loses more than this at its front counts as clipped.
inline constexpr Duration clip_limit = 50ms;

/// An over that was caught is torn when more than this share of its speech, and more than
/// tear_least, was not heard on the air; what relays cut off its front is not counted.
inline constexpr double tear_share = 0.1;
inline constexpr Duration tear_least = 200ms;

/// Figures of one recording, or of several added up. Each value in a list is one over.
struct Score {
    int overs = 0;
    int missed = 0;         ///< overs without any time on the air
    int torn = 0;           ///< caught overs of which too much was lost on the way
    int false_keys = 0;     ///< spells that began outside every over
    int held_on = 0;        ///< overs after which the key stayed closed far beyond the hang time
    int already_keyed = 0;  ///< overs that began while the key of another was still closed
    int clipped = 0;        ///< caught overs that lost more than clip_limit at their front
    std::vector<Duration> onset;       ///< label onset to decision; negative: before the label
    std::vector<Duration> front_lost;  ///< speech not heard before the over is first on the air
    std::vector<Duration> tail;        ///< end of the over to key open
    Duration dropout{};     ///< speech of caught overs not heard after their front
    Duration speech{};      ///< all labelled speech
    Duration lost{};        ///< of it, not heard on the air
    Detection detection;

    Score& operator+=(const Score& other);
};

/// `labels` is the operator's speech, of which what lies outside the recording is left out;
/// `length` is the recording's.
Score score(const Spans& labels, const std::vector<Spell>& spells, const Timing& timing,
            Duration length);

/// Nearest rank: the smallest value that at least `share` of the values do not exceed.
/// Zero for no values.
Duration percentile(std::vector<Duration> values, double share);

}  // namespace tripline::replay
