#include "daemon/lines/bank.h"
#include "tests/lines/fake_hardware.h"

#include <gtest/gtest.h>
#include <linux/hidraw.h>
#include <sys/ioctl.h>

namespace tripline::lines {
namespace {

using Report = std::array<unsigned char, 5>;

struct TheDongle : testing::Test {
    LineSettings pin3{.kind = Kind::cm108, .device = fake_dongle, .cm108_pin = 3};
    LineSettings pin1{.kind = Kind::cm108, .device = fake_dongle, .cm108_pin = 1};
    void SetUp() override { plug_in_new_hardware(); }
};

// The report for GPIO3, on and off: published values for CM108-class dongles.
TEST_F(TheDongle, WritesThePublishedReports) {
    Bank bank({pin3, {}, {}, {}});
    EXPECT_EQ(hardware().reports.back(), (Report{0x00, 0x00, 0x00, 0x04, 0x00}));
    ASSERT_TRUE(bank[Role::ptt].set(true));
    EXPECT_EQ(hardware().reports.back(), (Report{0x00, 0x00, 0x04, 0x04, 0x00}));
    ASSERT_TRUE(bank[Role::ptt].set(false));
    EXPECT_EQ(hardware().reports.back(), (Report{0x00, 0x00, 0x00, 0x04, 0x00}));
}

TEST_F(TheDongle, DrivesAllItsPinsToRestInOneReport) {
    pin1.active_high = false;
    Bank bank({pin3, {}, pin1, {}});
    EXPECT_EQ(hardware().opened, 1);
    ASSERT_EQ(hardware().reports.size(), 1U);
    EXPECT_EQ(hardware().reports[0], (Report{0, 0, 0x01, 0x05, 0}));
    ASSERT_TRUE(bank[Role::ptt].set(true));
    EXPECT_EQ(hardware().reports.back(), (Report{0, 0, 0x05, 0x05, 0}));
    ASSERT_TRUE(bank[Role::antenna].set(true));
    EXPECT_EQ(hardware().reports.back(), (Report{0, 0, 0x04, 0x05, 0}));
}

// Bits 7:6 of the second byte at 10 would write the EEPROM.
TEST_F(TheDongle, NeverAddressesTheEeprom) {
    for (unsigned pin = 1; pin <= 8; ++pin) {
        pin3.cm108_pin = pin;
        Bank bank({pin3, {}, {}, {}});
        ASSERT_TRUE(bank[Role::ptt].set(true));
    }
    for (const Report& report : hardware().reports) {
        EXPECT_EQ(report[0], 0);
        EXPECT_EQ(report[1], 0);
        EXPECT_EQ(report[4], 0);
    }
}

TEST_F(TheDongle, CannotBeReadBackAndSaysSo) {
    Bank bank({pin3, {}, {}, {}});
    EXPECT_FALSE(bank[Role::ptt].read().known);
}

TEST_F(TheDongle, ReportsEveryFailedOrShortWrite) {
    Bank bank({pin3, {}, {}, {}});
    for (const int error : {EIO, EBUSY, ENODEV}) {
        hardware().write_error = error;
        EXPECT_EQ(bank[Role::ptt].set(true).error, error);
    }
    hardware().write_error = 0;
    hardware().short_write = 3;
    EXPECT_EQ(bank[Role::ptt].set(false).error, EIO);
}

TEST_F(TheDongle, RefusesADeviceThatIsNoHidraw) {
    hardware().ioctl_error[HIDIOCGRAWINFO] = EINVAL;
    EXPECT_THROW(Bank({pin3, {}, {}, {}}), OpenError);
    EXPECT_TRUE(hardware().reports.empty());
}

}  // namespace
}  // namespace tripline::lines
