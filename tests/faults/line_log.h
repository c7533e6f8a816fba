// Reads what a file line wrote: when each role went active and to rest.
#pragma once

#include "dsp/units.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace tripline::faults {

using std::chrono_literals::operator""s;

/// CLOCK_MONOTONIC, as in the log.
using Instant = Duration;
Instant now();

struct Record {
    Instant at{};
    std::string role;
    bool active = false;
};

class LineLog {
public:
    explicit LineLog(std::filesystem::path path) : path_(std::move(path)) {}

    /// Everything that is there; a last line that is not whole is left out.
    std::vector<Record> records() const;
    /// Waits until the log has `role` go to `active` at `since` or later; nothing in time: nullopt.
    std::optional<Instant> wait(const std::string& role, bool active, Instant since,
                                Duration timeout = 2s) const;
    /// Level of `role` by its last record.
    bool active(const std::string& role) const;

private:
    std::filesystem::path path_;
};

}  // namespace tripline::faults
