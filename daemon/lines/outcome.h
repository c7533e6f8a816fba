// What became of an attempt to drive or read a line: values, not exceptions.
#pragma once

namespace tripline::lines {

/// 0, or the errno that tells why not.
struct [[nodiscard]] Outcome {
    int error = 0;
    explicit operator bool() const noexcept { return error == 0; }
};

/// What the hardware says of a line. `known` is false where a kind cannot be read back.
struct [[nodiscard]] Reading {
    Outcome outcome;
    bool known = false;
    bool active = false;
};

}  // namespace tripline::lines
