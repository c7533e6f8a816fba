// How many mistakes each pair of two settings makes.
#pragma once

#include "daemon/replay/score.h"

#include <cstddef>
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

/// Overs missed or torn, keys closed or held for nothing. What relays cut off an over's front
/// is no matter of a threshold, and is not counted.
inline int mistakes(const replay::Score& score) {
    return score.missed + score.torn + score.false_keys + score.held_on;
}

/// A cell a pair of values.
struct Map {
    Axis across;
    Axis up;
    std::vector<replay::Score> cells;   ///< row by row, from the lowest of `up`

    std::size_t columns() const { return across.values.size(); }
    std::size_t rows() const { return up.values.size(); }
    const replay::Score& at(std::size_t column, std::size_t row) const { return cells[row * columns() + column]; }
    bool good(std::size_t column, std::size_t row) const { return mistakes(at(column, row)) == 0; }
};

}  // namespace tripline::tune
