#include "tests/faults/line_log.h"

#include <poll.h>
#include <time.h>

#include <cmath>
#include <fstream>
#include <sstream>

namespace tripline::faults {

Instant now() {
    timespec time{};
    ::clock_gettime(CLOCK_MONOTONIC, &time);
    return std::chrono::seconds(time.tv_sec) + std::chrono::nanoseconds(time.tv_nsec);
}

std::vector<Record> LineLog::records() const {
    std::ifstream in(path_);
    std::vector<Record> records;
    for (std::string line; std::getline(in, line) && !in.eof();) {
        std::istringstream fields(line);
        std::string monotonic, wall, role, level;
        if (!(fields >> monotonic >> wall >> role >> level)) continue;
        const auto point = monotonic.find('.');
        records.push_back({std::chrono::seconds(std::stoll(monotonic.substr(0, point))) +
                               std::chrono::nanoseconds(std::stoll(monotonic.substr(point + 1))),
                           role, level == "active"});
    }
    return records;
}

std::optional<Instant> LineLog::wait(const std::string& role, bool active, Instant since,
                                     Duration timeout) const {
    for (const Instant end = now() + timeout; now() < end; ::poll(nullptr, 0, 1))
        for (const Record& record : records())
            if (record.role == role && record.active == active && record.at >= since)
                return record.at;
    return std::nullopt;
}

bool LineLog::active(const std::string& role) const {
    bool level = false;
    for (const Record& record : records())
        if (record.role == role) level = record.active;
    return level;
}

}  // namespace tripline::faults
