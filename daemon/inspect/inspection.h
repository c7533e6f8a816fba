// The health of the inputs, from a recording of them or live.
#pragma once

#include "daemon/inspect/channel.h"
#include "daemon/inspect/clocks.h"
#include "daemon/inspect/relation.h"

#include <span>

namespace tripline::inspect {

/// Shorter recordings tell too little.
inline constexpr Duration shortest_recording = std::chrono::seconds(5);

/// Takes samples of any length in blocks of any size; memory does not grow.
class Inspection {
public:
    /// Rates from 8 to 192 kHz.
    Inspection(Hertz rate, bool with_receiver);

    /// As many frames of both; without a receiver its span is empty.
    void push(std::span<const float> microphone, std::span<const float> receiver);
    /// Of what was pushed; each check of each channel once.
    Findings findings() const;

private:
    void judge_relation(Findings& findings) const;

    Hertz rate_;
    bool with_receiver_;
    Spectra spectra_;
    Channel microphone_;
    Channel receiver_;
    Relation relation_;
    Clocks clocks_;
};

/// A table in plain text, then a cure for each finding that is not good.
std::string to_text(const Findings& findings);

}  // namespace tripline::inspect
