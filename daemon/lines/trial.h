// Tries one line at a time, with the operator watching: `tripline lines`.
#pragma once

#include "daemon/lines/device.h"
#include "dsp/units.h"

#include <string>
#include <string_view>

namespace tripline::lines {

/// The operator at the terminal, and the clock; tests put words in its mouth.
class Attendant {
public:
    virtual ~Attendant() = default;
    virtual void say(std::string_view text) = 0;
    /// One line of what the operator types; empty at the end of input.
    virtual std::string ask(std::string_view question) = 0;
    virtual void wait(Duration time) = 0;
};

enum class TrialResult : std::uint8_t {
    moved,     ///< the operator saw it move
    unmoved,   ///< the operator did not
    declined,  ///< the operator did not type the role's name
    refused,   ///< its state cannot be read back though this kind of line can, or not wired
    failed,    ///< it could not be opened or driven, or reads back wrong
};

/// Longest time a trial leaves a line active.
inline constexpr Duration trial_limit = std::chrono::seconds(1);

/// Opens the device of `role` alone, so that every line it shares goes to rest; asks for the
/// role's name; drives the line active for `trial_limit`, reads it back where it can be
/// read, drives it to rest, reads that back, asks what the operator saw. Signals that end
/// the program are held back while the line is active; a second process drives it to rest
/// when this one is killed or stands still.
TrialResult try_line(const Wiring& wiring, Role role, Attendant& attendant);

}  // namespace tripline::lines
