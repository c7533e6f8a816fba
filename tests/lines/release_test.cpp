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
    EXPECT_TRUE(release_all(wiring).empty());
    EXPECT_EQ(hardware().reports.back()[2], 0x00);
}

TEST_F(TheRelease, LeavesASerialPortClosedWithItsLinesDown) {
    hardware().modem = TIOCM_RTS | TIOCM_DTR;
    EXPECT_TRUE(release_all(wiring).empty());
    EXPECT_EQ(hardware().modem, 0);
    EXPECT_TRUE(hardware().settings.c_cflag & HUPCL);
}

TEST_F(TheRelease, GoesOnAfterADeviceThatFailsAndTellsIt) {
    hardware().ioctl_error[TIOCMBIC] = EIO;
    const auto failures = release_all(wiring);
    ASSERT_EQ(failures.size(), 1U);
    EXPECT_EQ(failures[0].rfind("ptt: serial /dev/fake-serial", 0), 0U) << failures[0];
    EXPECT_EQ(hardware().reports.size(), 1U);
}

TEST_F(TheRelease, TellsALineThatStaysActive) {
    hardware().stuck = TIOCM_RTS;
    const auto failures = release_all(wiring);
    ASSERT_EQ(failures.size(), 1U);
    EXPECT_NE(failures[0].find("reads back active"), std::string::npos) << failures[0];
}

TEST_F(TheRelease, HasNothingToDoWithoutLines) { EXPECT_TRUE(release_all({}).empty()); }

}  // namespace
}  // namespace tripline::lines
