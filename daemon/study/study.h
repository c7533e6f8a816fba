// Works things out from the sound kept, one at a time, in a thread that gives way to all others.
#pragma once

#include "daemon/black_box/black_box.h"
#include "daemon/control/desk.h"

#include <atomic>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace tripline::study {

class Study {
public:
    enum class Subject : std::uint8_t { measures, margins };

    /// `box` and `desk` must outlive it.
    Study(black_box::BlackBox& box, const control::Desk& desk);
    /// Ends what is being worked out.
    ~Study();

    /// False while another is at work. Any thread.
    bool begin(Subject subject, std::string request);
    /// {"working":0.4}, or {"failed":"why"}, or what measures() and margins() answer; {} before the
    /// first. Any thread.
    std::string outcome() const;

private:
    struct Ended {};
    void run(const std::stop_token& stop);
    std::string work(Subject subject, const std::string& request, const std::stop_token& stop);

    black_box::BlackBox& box_;
    const control::Desk& desk_;
    mutable std::mutex mutex_;
    std::condition_variable_any asked_;
    bool wanted_ = false;        // under mutex_, as all to the blank line
    bool working_ = false;
    Subject subject_ = Subject::measures;
    std::string request_;
    std::string outcome_ = "{}";

    std::atomic<double> share_{0};  // any
    std::jthread thread_;
};

}  // namespace tripline::study
