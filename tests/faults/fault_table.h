// How long it takes, after a fault, until the key line is open: every injection of every
// row, printed as a table when the tests end. An injection spoilt by a machine that stood
// still is void and done again, at most twice a row.
#pragma once

#include "tests/faults/machine_watch.h"

#include <string>
#include <vector>

namespace tripline::faults {

using std::chrono_literals::operator""ms;

inline constexpr std::size_t injections = 20;   ///< of every row, at least
inline constexpr int excused = 2;               ///< of every row, at most
inline constexpr Duration any_fault = 300ms;    ///< bound of every row
inline constexpr Duration process_death = 100ms;

class FaultTable {
public:
    /// Whether the row is short of injections.
    bool wants(const std::string& fault) const;
    /// One injection: the fault at `at`, the line open at `opened`; `bound` is the row's. Over the
    /// bound it fails the test, unless the machine stood still for at least what it is over.
    void add(const std::string& fault, Duration bound, Instant at, Instant opened);
    /// An injection that came to nothing. True: the machine stood still for `least` or longer in
    /// that time, and the injection is void.
    bool excuse(const std::string& fault, Instant from, Instant to, Duration least);
    /// An injection in which sound was lost. False: too many of the row are void already.
    bool spoil(const std::string& fault);
    /// As markdown: fault, injections, median, worst, bound, void.
    std::string text() const;
    bool empty() const noexcept { return rows_.empty(); }

private:
    struct Row {
        std::string fault;
        Duration bound{0};
        std::vector<Duration> times;
        int voided = 0;
    };
    Row& row(const std::string& fault);
    std::vector<Row> rows_;
};

/// The table of this run of the tests.
FaultTable& table();

}  // namespace tripline::faults
