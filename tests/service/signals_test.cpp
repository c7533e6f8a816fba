#include "daemon/service/signals.h"

#include <gtest/gtest.h>

#include <csignal>

namespace tripline::service {
namespace {

using HangUp = Signals::HangUp;

Signals::Caught caught_after(int number, HangUp hang_up) {
    const Signals signals(hang_up);
    ::raise(number);
    return signals.wait(Duration{0});
}

TEST(TheSignals, StopAtEachThatEndsAProgram) {
    for (const int number : {SIGTERM, SIGINT, SIGQUIT}) {
        EXPECT_EQ(caught_after(number, HangUp::reloads).stop, number);
    }
}

TEST(TheSignals, TakeAHangUpForNewSettingsWhereThereIsNoTerminal) {
    const auto caught = caught_after(SIGHUP, HangUp::reloads);
    EXPECT_TRUE(caught.reload);
    EXPECT_EQ(caught.stop, 0);
}

TEST(TheSignals, StopWhenTheTerminalHasGone) {
    const auto caught = caught_after(SIGHUP, HangUp::stops);
    EXPECT_FALSE(caught.reload);
    EXPECT_EQ(caught.stop, SIGHUP);
}

TEST(TheSignals, TellOfATerminalThatHasTheProgramStandStill) {
    EXPECT_TRUE(caught_after(SIGTSTP, HangUp::stops).suspend);
}

}  // namespace
}  // namespace tripline::service
