#include "daemon/lines/release.h"

#include "daemon/lines/bank.h"
#include "tests/lines/fake_hardware.h"

#include <gtest/gtest.h>
#include <sys/ioctl.h>

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
    EXPECT_TRUE(all_at_rest(release_all(wiring)));
    EXPECT_EQ(hardware().reports.back()[2], 0x00);
}

TEST_F(TheRelease, LeavesASerialPortClosedWithItsLinesDown) {
    hardware().modem = TIOCM_RTS | TIOCM_DTR;
    EXPECT_TRUE(all_at_rest(release_all(wiring)));
    EXPECT_EQ(hardware().modem, 0);
    EXPECT_TRUE(hardware().settings.c_cflag & HUPCL);
}

TEST_F(TheRelease, GoesOnAfterADeviceThatFailsAndTellsIt) {
    hardware().ioctl_error[TIOCMBIC] = EIO;
    const auto released = release_all(wiring);
    ASSERT_EQ(released.size(), 2U);
    EXPECT_EQ(released[0].role, Role::ptt);
    EXPECT_EQ(released[0].failure.rfind("ptt: serial /dev/fake-serial", 0), 0U) << released[0].failure;
    EXPECT_EQ(released[1].role, Role::antenna);
    EXPECT_EQ(released[1].failure, "");
    EXPECT_EQ(hardware().reports.size(), 1U);
}

TEST_F(TheRelease, TellsALineThatStaysActive) {
    hardware().stuck = TIOCM_RTS;
    const auto released = release_all(wiring);
    ASSERT_EQ(released.size(), 2U);
    EXPECT_NE(released[0].failure.find("reads back active"), std::string::npos) << released[0].failure;
    EXPECT_EQ(released[1].failure, "");
}

TEST_F(TheRelease, DoesNotLeaveALineForTheSakeOfAnotherOnItsDevice) {
    wiring[index(Role::ptt)].active_high = false;  // which a serial port refuses
    wiring[index(Role::mute)] = {.kind = Kind::serial, .device = fake_serial, .serial_pin = SerialPin::dtr};
    hardware().modem = TIOCM_DTR;
    const auto released = release_all(wiring);
    ASSERT_EQ(released.size(), 3U);
    EXPECT_NE(released[0].failure, "");
    EXPECT_EQ(released[1].role, Role::mute);
    EXPECT_EQ(released[1].failure, "");
    EXPECT_EQ(hardware().modem & TIOCM_DTR, 0);
}

TEST_F(TheRelease, HasNothingToDoWithoutLines) { EXPECT_TRUE(release_all({}).empty()); }

}  // namespace
}  // namespace tripline::lines
