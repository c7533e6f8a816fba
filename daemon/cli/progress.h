// How far a long job is, on a terminal.
#pragma once

#include <chrono>
#include <string>

namespace tripline::cli {

/// One line on standard error, rewritten at most ten times a second, shown only when
/// standard error is a terminal and the job has taken longer than half a second; wiped at
/// the end.
class Progress {
public:
    explicit Progress(std::string what);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    /// `share` from 0 to 1.
    void show(double share);

private:
    using Clock = std::chrono::steady_clock;

    std::string what_;
    bool terminal_;
    bool shown_ = false;
    Clock::time_point next_;
};

}  // namespace tripline::cli
