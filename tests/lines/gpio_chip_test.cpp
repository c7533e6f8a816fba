#include "daemon/lines/gpio_chip.h"

#include "tests/lines/fake_gpiod.h"

#include <gtest/gtest.h>

namespace tripline::lines {
namespace {

struct TheGpioChip : testing::Test {
    std::array<Wire, 2> wires{
        Wire{Role::ptt, {.kind = Kind::gpio, .device = "/dev/gpiochip0", .gpio_line = 3}},
        Wire{Role::antenna,
             {.kind = Kind::gpio, .device = "/dev/gpiochip0", .gpio_line = 5, .active_high = false}}};
    void SetUp() override { chip() = {}; }

    std::string refusal() {
        try {
            GpioChip opened(wires);
        } catch (const OpenError& error) {
            return error.what();
        }
        return "opened";
    }
};

TEST_F(TheGpioChip, RequestsItsLinesAsOutputsAtRest) {
    GpioChip gpio(wires);
    EXPECT_EQ(chip().opened, 1);
    EXPECT_EQ(chip().calls, (std::vector<std::string>{"request 3=0", "request 5=1"}));
    EXPECT_EQ(chip().consumer, "tripline");
}

TEST_F(TheGpioChip, DrivesEachLineByItsOwnActiveLevel) {
    GpioChip gpio(wires);
    ASSERT_TRUE(gpio.drive(wires[0], true));
    ASSERT_TRUE(gpio.drive(wires[1], true));
    EXPECT_EQ(chip().value[3], 1);
    EXPECT_EQ(chip().value[5], 0);
    ASSERT_TRUE(gpio.drive(wires[0], false));
    EXPECT_EQ(chip().value[3], 0);
}

TEST_F(TheGpioChip, ReadsItsLinesBack) {
    GpioChip gpio(wires);
    ASSERT_TRUE(gpio.drive(wires[1], true));
    Reading reading = gpio.read(wires[1]);
    EXPECT_TRUE(reading.outcome && reading.known && reading.active);
    chip().value[5] = 1;
    reading = gpio.read(wires[1]);
    EXPECT_TRUE(reading.outcome && reading.known && !reading.active);
}

TEST_F(TheGpioChip, ReportsEveryFailureToDriveOrRead) {
    GpioChip gpio(wires);
    for (const int error : {EIO, EBUSY, ENODEV}) {
        chip().set_error = chip().get_error = error;
        EXPECT_EQ(gpio.drive(wires[0], true).error, error);
        EXPECT_EQ(gpio.read(wires[0]).outcome.error, error);
    }
}

TEST_F(TheGpioChip, ClosesWhatItOpened) {
    { GpioChip gpio(wires); }
    EXPECT_EQ(chip().closed, 1);
    EXPECT_FALSE(chip().requested[3]);
}

TEST_F(TheGpioChip, ExplainsALineThatIsTaken) {
    chip().taken = {5};
    EXPECT_NE(refusal().find("another program"), std::string::npos) << refusal();
    EXPECT_EQ(chip().opened, chip().closed) << "nothing is left open";
}

TEST_F(TheGpioChip, ExplainsAChipThatIsMissing) {
    chip().open_error = ENOENT;
    EXPECT_NE(refusal().find("its driver loaded"), std::string::npos) << refusal();
}

TEST_F(TheGpioChip, RefusesALineTheChipDoesNotHave) {
    wires[0].settings.gpio_line = 8;
    EXPECT_NE(refusal().find("Invalid argument"), std::string::npos) << refusal();
}

}  // namespace
}  // namespace tripline::lines
