// What the events tell the log.
#include "daemon/service/event_reporter.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <initializer_list>
#include <string>

namespace tripline::service {
namespace {

/// The log's lines for so many spells in succession, one event each.
std::string logged(std::initializer_list<int> self_keyed) {
    audio::Ring<station::Event> ring(64);
    control::Desk desk;
    testing::internal::CaptureStderr();
    Log log(config::LogLevel::info);
    EventReporter reporter(ring, log, desk, false, "");
    for (const int spells : self_keyed) {
        station::Event event;
        event.heard.self_keyed = spells;
        ring.push(event);
    }
    reporter.drain(Hertz{48000});
    log.close();
    return testing::internal::GetCapturedStderr();
}

TEST(TheReporter, SaysOnceThatTheReceiverKeysTheStationAgainAndAgain) {
    EXPECT_EQ(logged({0, 1, 1, 2, 0, 1, 2}), "") << "may be the operator's short words";
    const std::string three = logged({1, 2, 2, 3, 3, 4, 5});
    EXPECT_NE(three.find("keyed 3 times running"), std::string::npos) << three;
    EXPECT_EQ(std::ranges::count(three, '\n'), 1) << three;
    const std::string more = logged({3, 4, 6, 7, 8, 8, 8});
    EXPECT_NE(more.find("keyed 6 times running"), std::string::npos) << more;
    EXPECT_EQ(std::ranges::count(more, '\n'), 2) << more;
}

}  // namespace
}  // namespace tripline::service
