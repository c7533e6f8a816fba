// Makes overs of what is seen of the key. Pure: times are given.
#pragma once

#include "daemon/logbook/over.h"

#include <algorithm>

namespace tripline::logbook {

/// For one thread.
class OverWatch {
public:
    /// `before`: number of the last over in the log.
    explicit OverWatch(std::uint64_t before) { over_.number = before; }

    void key_closed(WallTime now, station::Reason why, Power microphone) {
        over_ = {.number = over_.number + 1, .began = now, .length = {}, .keyed_by = why,
                 .ended_by = station::Reason::none, .peak = microphone, .mark = Mark::none};
        running_ = true;
    }
    void heard(Power microphone) {
        if (running_) over_.peak = std::max(over_.peak, microphone);
    }
    /// Only after key_closed().
    Over key_opened(Duration length, station::Reason why) {
        running_ = false;
        over_.length = std::chrono::round<std::chrono::milliseconds>(length);
        over_.ended_by = why;
        return over_;
    }
    /// In place of key_opened(): it was none, and the next one has its number.
    void withdraw() {
        running_ = false;
        --over_.number;
    }
    bool running() const { return running_; }

private:
    Over over_;
    bool running_ = false;
};

}  // namespace tripline::logbook
