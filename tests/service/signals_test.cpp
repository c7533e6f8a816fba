#include "daemon/service/signals.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

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

// Else it would stand still for good: whoever sent the one believes that the other came after it.
TEST(TheSignals, DoNotHaveItStandStillWhereItWasToldToGoOnMeanwhile) {
    const pid_t child = ::fork();
    if (child == 0) {
        ::setpgid(0, 0);  // the test's own group may be nobody's to send on, and would not stop
        const Signals signals(HangUp::stops);
        ::raise(SIGTSTP);
        (void)signals.wait(std::chrono::seconds{1});
        ::raise(SIGCONT);
        Signals::stand_still();
        ::_exit(0);
    }
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, WUNTRACED), child);
    EXPECT_TRUE(WIFEXITED(status)) << "it stands still";
    ::kill(child, SIGKILL);
}

TEST(TheSignals, LetWhatHangsAtTheEndOfAStationWhoseLinesAreReleasedBeNoFailure) {
    const pid_t child = ::fork();
    if (child == 0) {
        Signals::leave_at_alarm(0);
        ::alarm(1);
        for (;;) ::pause();
    }
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0) << status;
}

TEST(TheSignals, TellOfATerminalThatHasTheProgramStandStill) {
    EXPECT_TRUE(caught_after(SIGTSTP, HangUp::stops).suspend);
}

}  // namespace
}  // namespace tripline::service
