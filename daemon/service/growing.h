// Says when a counter that should stand still is worth another line in the log.
#pragma once

#include "daemon/service/back_off.h"

#include <cstdint>

namespace tripline::service {

class Growing {
public:
    /// True at the first growth, then at most after one second, two, four ... an hour.
    bool due(std::uint64_t count, Duration now) {
        if (count == said_ || now < next_) return false;
        said_ = count;
        next_ = now + wait_.failed();
        return true;
    }

private:
    std::uint64_t said_ = 0;
    Duration next_{0};
    BackOff wait_{std::chrono::seconds{1}, std::chrono::hours{1}};
};

}  // namespace tripline::service
