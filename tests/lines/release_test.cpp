#include "daemon/lines/release.h"

#include "daemon/lines/bank.h"
#include "tests/lines/fake_hardware.h"

#include <gtest/gtest.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

namespace tripline::lines {
namespace {

struct TheRelease : testing::Test {
    Wiring wiring{LineSettings{.kind = Kind::serial, .device = fake_serial},
                  LineSettings{},
                  LineSettings{.kind = Kind::cm108, .device = fake_dongle},
                  LineSettings{}};
    void SetUp() override { plug_in_new_hardware(); }
};

TEST_F(TheRelease, DrivesADonglePinLowThatAKilledProgramLeftOn) {
    {
        Bank killed(wiring);
        ASSERT_TRUE(killed[Role::antenna].set(true));
    }
    ASSERT_EQ(hardware().reports.back()[2], 0x04) << "closing leaves the pin as it was";
    EXPECT_TRUE(all_at_rest(release_all(wires_of(wiring))));
    EXPECT_EQ(hardware().reports.back()[2], 0x00);
}

TEST_F(TheRelease, LeavesASerialPortClosedWithItsLinesDown) {
    hardware().modem = TIOCM_RTS | TIOCM_DTR;
    EXPECT_TRUE(all_at_rest(release_all(wires_of(wiring))));
    EXPECT_EQ(hardware().modem, 0);
    EXPECT_TRUE(hardware().settings.c_cflag & HUPCL);
}

TEST_F(TheRelease, GoesOnAfterADeviceThatFailsAndTellsIt) {
    hardware().ioctl_error[TIOCMBIC] = EIO;
    const auto released = release_all(wires_of(wiring));
    ASSERT_EQ(released.size(), 2U);
    EXPECT_EQ(released[0].wire.role, Role::ptt);
    EXPECT_EQ(released[0].failure.rfind("ptt: serial /dev/fake-serial", 0), 0U) << released[0].failure;
    EXPECT_EQ(released[1].wire.role, Role::antenna);
    EXPECT_EQ(released[1].failure, "");
    EXPECT_EQ(hardware().reports.size(), 1U);
}

TEST_F(TheRelease, TellsALineThatStaysActive) {
    hardware().stuck = TIOCM_RTS;
    const auto released = release_all(wires_of(wiring));
    ASSERT_EQ(released.size(), 2U);
    EXPECT_NE(released[0].failure.find("reads back active"), std::string::npos) << released[0].failure;
    EXPECT_EQ(released[1].failure, "");
}

TEST_F(TheRelease, DoesNotLeaveALineForTheSakeOfAnotherOnItsDevice) {
    wiring[index(Role::ptt)].active_high = false;  // which a serial port refuses
    wiring[index(Role::mute)] = {.kind = Kind::serial, .device = fake_serial, .serial_pin = SerialPin::dtr};
    hardware().modem = TIOCM_DTR;
    const auto released = release_all(wires_of(wiring));
    ASSERT_EQ(released.size(), 3U);
    EXPECT_NE(released[0].failure, "");
    EXPECT_EQ(released[1].wire.role, Role::mute);
    EXPECT_EQ(released[1].failure, "");
    EXPECT_EQ(hardware().modem & TIOCM_DTR, 0);
}

// Each record of a log begins with the monotonic time in seconds.
TEST_F(TheRelease, RestsTheKeyThenTheAntennaThenTheMuteWithThePausesBetween) {
    using std::chrono_literals::operator""ms;
    const std::string folder = testing::TempDir() + "tripline-release-" + std::to_string(::getpid());
    std::filesystem::create_directory(folder);
    const auto file = [&](const char* name) { return LineSettings{.kind = Kind::file, .device = folder + "/" + name}; };
    const auto at = [&](const char* name) {
        std::ifstream in(folder + "/" + name);
        double time = 0;
        return in >> time ? time : 0;
    };
    const Wiring lines{file("ptt"), file("mute"), file("antenna"), {}};
    EXPECT_TRUE(all_at_rest(release_all(wires_of(lines), {.after_ptt = 60ms, .after_antenna = 40ms})));
    EXPECT_GE(at("antenna"), at("ptt") + 0.060);
    EXPECT_GE(at("mute"), at("antenna") + 0.040);
    std::filesystem::remove_all(folder);
}

TEST_F(TheRelease, ReleasesEveryWireOfARole) {
    const Wire one{Role::ptt, wiring[index(Role::antenna)]};
    Wire other = one;
    other.settings.cm108_pin = 5;
    const auto released = release_all({one, {Role::ptt, wiring[index(Role::ptt)]}, other});
    ASSERT_EQ(released.size(), 3U);
    EXPECT_TRUE(all_at_rest(released));
    EXPECT_EQ(hardware().reports.back()[3], 0x14) << "both pins of the dongle in one report";
}

TEST_F(TheRelease, WaitsForAGuardThatIsJustLettingGo) {
    using std::chrono_literals::operator""ms;
    const std::string log = testing::TempDir() + "tripline-waits-" + std::to_string(::getpid());
    const Wiring lines{LineSettings{.kind = Kind::file, .device = log}, {}, {}, {}};
    auto bank = std::make_unique<Bank>(lines);
    const pid_t guard = ::fork();
    if (guard == 0) {  // it has the lock as well
        ::usleep(100'000);
        ::_exit(0);
    }
    bank.reset();
    EXPECT_FALSE(all_at_rest(release_all(wires_of(lines))));
    EXPECT_TRUE(all_at_rest(release_all(wires_of(lines), {}, 5000ms)));
    ::waitpid(guard, nullptr, 0);
    std::filesystem::remove(log);
}

TEST_F(TheRelease, HasNothingToDoWithoutLines) { EXPECT_TRUE(release_all({}).empty()); }

}  // namespace
}  // namespace tripline::lines
