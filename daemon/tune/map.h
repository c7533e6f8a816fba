// How many mistakes each pair of two settings makes.
#pragma once

#include "daemon/replay/mistake.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace tripline::tune {

/// One setting and the values it is tried with, rising.
struct Axis {
    std::string key;   ///< "gate.open_dbfs"
    std::vector<double> values;

    /// "dB" for a key in dB or dBFS, "ms" and so on as the key's name ends; empty: a bare number.
    std::string unit() const;
};

/// The nearest number with nine decimals: what sums and differences of such numbers were meant to be.
double without_residue(double value);

/// Overs missed or torn, keys closed or held for nothing. What relays cut off an over's front
/// is no matter of a threshold, and is not counted.
inline int mistakes(const replay::Score& score) {
    return score.missed + score.torn + score.false_keys + score.held_on;
}

/// How a setting did.
struct Trial {
    replay::Score score;   ///< of all recordings, unless it was given up
    std::optional<replay::MistakeKind> given_up;   ///< at its first mistake, which was of this kind

    bool good() const { return !given_up && mistakes(score) == 0; }
};

/// A cell a pair of values.
struct Map {
    Axis across;
    Axis up;
    std::vector<Trial> cells;   ///< row by row, from the lowest of `up`

    std::size_t columns() const { return across.values.size(); }
    std::size_t rows() const { return up.values.size(); }
    const Trial& at(std::size_t column, std::size_t row) const { return cells[row * columns() + column]; }
    bool good(std::size_t column, std::size_t row) const { return at(column, row).good(); }
};

}  // namespace tripline::tune
