// How long it takes, after a fault, until the key line is open: every injection of every
// row, printed as a table when the tests end.
#pragma once

#include "dsp/units.h"

#include <string>
#include <vector>

namespace tripline::faults {

using std::chrono_literals::operator""ms;

inline constexpr int injections = 20;           ///< of every row, at least
inline constexpr Duration any_fault = 300ms;    ///< bound of every row
inline constexpr Duration process_death = 100ms;

class FaultTable {
public:
    /// One injection: `took` from the fault to the open line; `bound` is the row's.
    void add(const std::string& fault, Duration bound, Duration took);
    /// As markdown: fault, injections, median, worst, bound.
    std::string text() const;
    bool empty() const noexcept { return rows_.empty(); }

private:
    struct Row {
        std::string fault;
        Duration bound;
        std::vector<Duration> times;
    };
    std::vector<Row> rows_;
};

/// The table of this run of the tests.
FaultTable& table();

}  // namespace tripline::faults
