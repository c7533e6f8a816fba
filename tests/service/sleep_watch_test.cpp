#include "daemon/service/sleep_watch.h"

#include "tests/service/pretend_logind.h"

#include <gtest/gtest.h>

#include <optional>

namespace tripline::service {
namespace {

/// Turns it until it says so, at most ten seconds.
bool says(SleepWatch& watch, bool near) {
    for (int i = 0; i < 2000 && watch.near() != near; ++i) {
        watch.turn();
        ::poll(nullptr, 0, 5);
    }
    return watch.near() == near;
}

bool delays(SleepWatch& watch, const PretendLogind& logind, bool wanted) {
    for (int i = 0; i < 2000 && logind.waits() != wanted; ++i) {
        watch.turn();
        ::poll(nullptr, 0, 5);
    }
    return logind.waits() == wanted;
}

TEST(TheSleepOfTheMachine, IsDelayedUntilTheLinesAreAtRestAndSoIsTheNext) {
    PretendLogind logind;
    SleepWatch watch;
    for (int night = 0; night < 2; ++night) {
        ASSERT_TRUE(delays(watch, logind, true)) << night;
        EXPECT_FALSE(watch.near());
        logind.announce(true);
        ASSERT_TRUE(says(watch, true)) << night;
        EXPECT_TRUE(logind.waits());
        watch.let_sleep();
        EXPECT_TRUE(delays(watch, logind, false)) << night;
        logind.announce(false);
        ASSERT_TRUE(says(watch, false)) << night;
    }
}

TEST(TheSleepOfTheMachine, IsNotWatchedWhereThereIsNoBus) {
    ::setenv("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=/nowhere/bus", 1);
    SleepWatch watch;
    for (int i = 0; i < 3; ++i) watch.turn();
    EXPECT_FALSE(watch.near());
    ::unsetenv("DBUS_SYSTEM_BUS_ADDRESS");
}

TEST(TheSleepOfTheMachine, IsOverForAStationThatHasLostTheBus) {
    std::optional<PretendLogind> logind(std::in_place);
    SleepWatch watch;
    ASSERT_TRUE(delays(watch, *logind, true));
    logind->announce(true);
    ASSERT_TRUE(says(watch, true));
    logind.reset();
    EXPECT_TRUE(says(watch, false)) << "it would never hear that the machine has woken";
}

}  // namespace
}  // namespace tripline::service
