#include "daemon/lines/bank.h"
#include "tests/lines/fake_hardware.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/ioctl.h>

#include <algorithm>

namespace tripline::lines {
namespace {

struct TheSerialPort : testing::Test {
    LineSettings rts{.kind = Kind::serial, .device = fake_serial, .serial_pin = SerialPin::rts};
    LineSettings dtr{.kind = Kind::serial, .device = fake_serial, .serial_pin = SerialPin::dtr};
    void SetUp() override { plug_in_new_hardware(); }

    std::string refusal(const LineSettings& ptt) {
        try {
            Bank bank({ptt, {}, {}, {}});
        } catch (const OpenError& error) {
            return error.what();
        }
        return "opened";
    }
};

TEST_F(TheSerialPort, IsOpenedOnceAndClearedBeforeAnythingElse) {
    Bank bank({rts, {}, dtr, {}});
    EXPECT_EQ(hardware().opened, 1);
    ASSERT_FALSE(hardware().calls.empty());
    EXPECT_EQ(hardware().calls[0], "clear RD");
    EXPECT_EQ(hardware().modem, 0);
    const int wanted = O_NOCTTY | O_NONBLOCK | O_CLOEXEC;
    EXPECT_EQ(hardware().open_flags & wanted, wanted);
}

TEST_F(TheSerialPort, IsExclusiveFallsAtCloseAndStaysAtSpeed0) {
    { Bank bank({rts, {}, {}, {}}); }
    EXPECT_NE(std::ranges::find(hardware().calls, "exclusive"), hardware().calls.end());
    EXPECT_TRUE(hardware().settings.c_cflag & HUPCL);
    EXPECT_TRUE(hardware().settings.c_cflag & CLOCAL);
    EXPECT_FALSE(hardware().settings.c_cflag & CRTSCTS);
    EXPECT_EQ(::cfgetospeed(&hardware().settings), static_cast<speed_t>(B0));
}

TEST_F(TheSerialPort, KeysOnOnePinAndLeavesTheOther) {
    Bank bank({rts, {}, dtr, {}});
    ASSERT_TRUE(bank[Role::antenna].set(true));
    EXPECT_EQ(hardware().modem, TIOCM_DTR);
    ASSERT_TRUE(bank[Role::ptt].set(true));
    EXPECT_EQ(hardware().modem, TIOCM_DTR | TIOCM_RTS);
    ASSERT_TRUE(bank[Role::ptt].set(false));
    EXPECT_EQ(hardware().modem, TIOCM_DTR);
}

TEST_F(TheSerialPort, RestsHighWhereALineIsActiveLow) {
    dtr.active_high = false;
    Bank bank({rts, {}, dtr, {}});
    EXPECT_EQ(hardware().modem, TIOCM_DTR);
    ASSERT_TRUE(bank[Role::antenna].set(true));
    EXPECT_EQ(hardware().modem, 0);
}

TEST_F(TheSerialPort, RefusesAnActiveLowKey) {
    rts.active_high = false;
    EXPECT_NE(refusal(rts).find("wire it active high"), std::string::npos);
    EXPECT_EQ(hardware().opened, 0);
}

TEST_F(TheSerialPort, ReadsItsLinesBack) {
    Bank bank({rts, {}, {}, {}});
    ASSERT_TRUE(bank[Role::ptt].set(true));
    Reading reading = bank[Role::ptt].read();
    EXPECT_TRUE(reading.outcome && reading.known && reading.active);
    hardware().modem = 0;
    reading = bank[Role::ptt].read();
    EXPECT_TRUE(reading.outcome && reading.known && !reading.active);
}

TEST_F(TheSerialPort, ReportsEveryFailureToDriveOrRead) {
    Bank bank({rts, {}, {}, {}});
    for (const int error : {EIO, EBUSY, ENODEV}) {
        hardware().ioctl_error = {{TIOCMBIS, error}, {TIOCMGET, error}};
        EXPECT_EQ(bank[Role::ptt].set(true).error, error);
        EXPECT_EQ(bank[Role::ptt].read().outcome.error, error);
    }
}

TEST_F(TheSerialPort, ExplainsWhyItCannotBeOpened) {
    const std::map<int, std::string> cures{{ENOENT, "plugged in"},
                                           {EACCES, "dialout"},
                                           {EBUSY, "another program"},
                                           {ENXIO, "no hardware"}};
    for (const auto& [error, cure] : cures) {
        plug_in_new_hardware();
        hardware().open_error = error;
        EXPECT_NE(refusal(rts).find(cure), std::string::npos) << refusal(rts);
    }
}

TEST_F(TheSerialPort, ExplainsWhichStepFailed) {
    for (const int request : {TIOCMBIC, TIOCEXCL}) {
        plug_in_new_hardware();
        hardware().ioctl_error[static_cast<unsigned long>(request)] = EIO;
        EXPECT_NE(refusal(rts).find("Input/output error"), std::string::npos) << request;
    }
}

// A pseudo-terminal of the real kernel has no modem lines: ENOTTY.
TEST_F(TheSerialPort, RefusesATerminalWithoutModemLines) {
    const int master = ::posix_openpt(O_RDWR | O_NOCTTY);
    ASSERT_GE(master, 0);
    ASSERT_EQ(::grantpt(master), 0);
    ASSERT_EQ(::unlockpt(master), 0);
    rts.device = ::ptsname(master);
    EXPECT_NE(refusal(rts).find("without modem lines"), std::string::npos) << refusal(rts);
    ::close(master);
}

TEST_F(TheSerialPort, RefusesWhatIsNoTerminal) {
    rts.device = "/dev/null";
    EXPECT_NE(refusal(rts).find("no serial port"), std::string::npos) << refusal(rts);
}

TEST_F(TheSerialPort, DoesNotPulseTheKeyWhenOpenedASecondTime) {
    { Bank bank({rts, {}, {}, {}}); }
    hardware().calls.clear();
    hardware().modem = 0;
    hardware().ioctl_error[TIOCMBIC] = EIO;  // so that what open() itself did stands
    EXPECT_NE(refusal(rts).find("Input/output"), std::string::npos);
    EXPECT_EQ(hardware().modem, 0);
}

}  // namespace
}  // namespace tripline::lines
