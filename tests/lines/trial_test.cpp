#include "daemon/lines/trial.h"

#include "tests/lines/fake_hardware.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <sys/wait.h>

#include <csignal>
#include <functional>

namespace tripline::lines {
namespace {

/// An operator who gives the answers in turn.
struct Scripted final : Attendant {
    std::vector<std::string> answers;
    std::string said;
    std::vector<Duration> waits;
    std::function<void()> during_wait = [] {};

    void say(std::string_view text) override { said += std::string(text) + "\n"; }
    std::string ask(std::string_view) override {
        if (answers.empty()) return {};
        std::string answer = answers.front();
        answers.erase(answers.begin());
        return answer;
    }
    void wait(Duration time) override {
        waits.push_back(time);
        during_wait();
    }
};

struct TheTrial : testing::Test {
    Wiring wiring{LineSettings{.kind = Kind::serial, .device = fake_serial},
                  LineSettings{},
                  LineSettings{.kind = Kind::cm108, .device = fake_dongle},
                  LineSettings{}};
    Scripted operator_;
    void SetUp() override { plug_in_new_hardware(); }
};

TEST_F(TheTrial, SwitchesOneLineForOneSecondAfterTheOperatorTypedItsName) {
    operator_.answers = {"ptt", "yes"};
    operator_.during_wait = [] { EXPECT_EQ(hardware().modem, TIOCM_RTS); };
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::moved);
    ASSERT_EQ(operator_.waits.size(), 1U);
    EXPECT_LE(operator_.waits[0], std::chrono::seconds(1));
    EXPECT_EQ(hardware().modem, 0);
}

TEST_F(TheTrial, DoesNothingWithoutTheName) {
    for (const char* answer : {"", "y", "yes", "PTT", "mute"}) {
        operator_.answers = {answer, "yes"};
        EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::declined);
    }
    EXPECT_TRUE(operator_.waits.empty());
    EXPECT_EQ(operator_.said.rfind("ptt: declined, nothing switched\n", 0), 0U) << operator_.said;
}

TEST_F(TheTrial, IsConfirmedByAPlainYesAlone) {
    for (const char* answer : {"y", "yes", "Y", "Yes"}) {
        operator_.answers = {"ptt", answer};
        EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::moved) << answer;
    }
    for (const char* answer : {"n", "no", "", "yes?"}) {
        operator_.said.clear();
        operator_.answers = {"ptt", answer};
        EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::unmoved) << answer;
        EXPECT_EQ(operator_.said, "ptt: NOT confirmed\n");
    }
}

TEST_F(TheTrial, RefusesALineThatCouldBeReadBackButIsNot) {
    hardware().ioctl_error[TIOCMGET] = EIO;
    operator_.answers = {"ptt", "yes"};
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::refused);
    EXPECT_TRUE(operator_.waits.empty());
}

TEST_F(TheTrial, SaysWhenAKindOfLineCannotBeReadBack) {
    operator_.answers = {"antenna", "no"};
    EXPECT_EQ(try_line(wiring, Role::antenna, operator_), TrialResult::unmoved);
    EXPECT_NE(operator_.said.find("cannot be read back"), std::string::npos);
    EXPECT_EQ(hardware().reports.back()[2], 0);
}

TEST_F(TheTrial, TellsALineThatStaysActive) {
    operator_.answers = {"ptt", "yes"};
    operator_.during_wait = [] { hardware().stuck = TIOCM_RTS; };
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::failed);
    EXPECT_NE(operator_.said.find("to rest but reads back active"), std::string::npos)
        << operator_.said;
}

TEST_F(TheTrial, DoesNotSwitchALineThatIsActiveAlready) {
    hardware().stuck = TIOCM_RTS;
    operator_.answers = {"ptt", "yes"};
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::failed);
    EXPECT_TRUE(operator_.waits.empty());
}

TEST_F(TheTrial, DrivesTheLineToRestWhenItCouldNotBeDrivenActive) {
    operator_.answers = {"ptt", "yes"};
    hardware().ioctl_error[TIOCMBIS] = EIO;
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::failed);
    EXPECT_TRUE(operator_.waits.empty());
    EXPECT_EQ(hardware().calls.back(), "clear R");
}

TEST_F(TheTrial, HoldsBackTheSignalsThatWouldEndItWithTheLineActive) {
    operator_.answers = {"ptt", "yes"};
    operator_.during_wait = [] {
        sigset_t blocked;
        ::pthread_sigmask(SIG_BLOCK, nullptr, &blocked);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP}) EXPECT_TRUE(sigismember(&blocked, signal));
    };
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::moved);
    sigset_t blocked;
    ::pthread_sigmask(SIG_BLOCK, nullptr, &blocked);
    EXPECT_FALSE(sigismember(&blocked, SIGINT));
}

/// Whether the key is opened, within two seconds, after `signal` has hit the program in a trial of it.
bool opens_after(int signal) {
    const TemporaryFolder folder;
    Wiring wiring;
    wiring[index(Role::ptt)] = {.kind = Kind::file, .device = folder / "lines"};
    const pid_t program = ::fork();
    if (program == 0) {
        Scripted attendant;
        attendant.answers = {"ptt"};
        attendant.during_wait = [signal] { ::raise(signal); };
        (void)try_line(wiring, Role::ptt, attendant);
        ::_exit(0);
    }
    int status = 0;
    ::waitpid(program, &status, WUNTRACED);
    EXPECT_NE(folder.read("lines").find("ptt active\n"), std::string::npos);
    bool open = false;
    for (int i = 0; i < 400 && !open; ++i, ::poll(nullptr, 0, 5)) open = folder.read("lines").ends_with("ptt rest\n");
    ::kill(program, SIGKILL);
    if (WIFSTOPPED(status)) ::waitpid(program, nullptr, 0);
    return open;
}

TEST_F(TheTrial, EndsAlsoWhenTheProgramIsKilledOrStopped) {
    EXPECT_TRUE(opens_after(SIGKILL));
    EXPECT_TRUE(opens_after(SIGSTOP));
}

TEST_F(TheTrial, RefusesARoleThatIsNotWired) {
    EXPECT_EQ(try_line(wiring, Role::mute, operator_), TrialResult::refused);
}

TEST_F(TheTrial, TellsWhyALineCannotBeOpened) {
    hardware().open_error = EBUSY;
    EXPECT_EQ(try_line(wiring, Role::ptt, operator_), TrialResult::failed);
    EXPECT_NE(operator_.said.find("another program"), std::string::npos);
}

}  // namespace
}  // namespace tripline::lines
