// The detection cost of NIST's evaluations of speech activity detection.
#pragma once

#include "daemon/replay/span.h"

namespace tripline::replay {

/// Times, so that several recordings add up.
struct Detection {
    Duration missed{};        ///< reference, not detected
    Duration false_alarm{};   ///< detected, not in the reference
    Duration speech{};        ///< of the reference
    Duration silence{};       ///< the rest of what is scored

    double p_miss() const;    ///< 0 without speech
    double p_false() const;   ///< 0 without silence
    /// 0.75 Pmiss + 0.25 Pfa
    double cost() const { return 0.75 * p_miss() + 0.25 * p_false(); }
    Detection& operator+=(const Detection& other);
};

/// Compares two sets of spans within those that are scored (a UEM in NIST's terms).
Detection compare(const Spans& reference, const Spans& detected, const Spans& scored);

}  // namespace tripline::replay
