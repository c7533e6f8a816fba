#include "daemon/guard/arguments.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace tripline::guard {
namespace {

Plan station_plan() {
    Plan plan;
    plan.wiring[0] = {.kind = lines::Kind::serial, .device = "/dev/serial/by-id/usb-a,b c"};
    plan.wiring[1] = {.kind = lines::Kind::gpio, .device = "/dev/gpiochip0", .gpio_line = 17,
                      .active_high = false};
    plan.wiring[2] = {.kind = lines::Kind::cm108, .device = "/dev/hidraw2", .cm108_pin = 4};
    plan.steps.antenna = {33ms, 44ms};
    plan.steps.settle = 7ms;
    plan.longest = 95s;
    plan.silence = 200ms;
    plan.alive_period = 250ms;
    plan.priority = 42;
    return plan;
}

Plan there_and_back(const Plan& plan) {
    const auto texts = to_arguments(plan);
    std::vector<const char*> pointers;
    for (const auto& text : texts) pointers.push_back(text.c_str());
    return from_arguments(pointers);
}

TEST(TheArguments, BringThePlanAcrossWhole) {
    const Plan before = station_plan();
    const Plan after = there_and_back(before);
    for (std::size_t i = 0; i < before.wiring.size(); ++i) {
        EXPECT_EQ(after.wiring[i].kind, before.wiring[i].kind);
        EXPECT_EQ(after.wiring[i].device, before.wiring[i].device);
        EXPECT_EQ(after.wiring[i].active_high, before.wiring[i].active_high);
    }
    EXPECT_EQ(after.wiring[0].serial_pin, lines::SerialPin::rts);
    EXPECT_EQ(after.wiring[1].gpio_line, 17U);
    EXPECT_EQ(after.wiring[2].cm108_pin, 4U);
    EXPECT_EQ(after.steps.antenna.lead, 33ms);
    EXPECT_EQ(after.steps.antenna.lag, 44ms);
    EXPECT_EQ(after.steps.ptt.lag, before.steps.ptt.lag);
    EXPECT_EQ(after.steps.settle, 7ms);
    EXPECT_EQ(after.longest, 95s);
    EXPECT_EQ(after.silence, 200ms);
    EXPECT_EQ(after.alive_period, 250ms);
    EXPECT_EQ(after.priority, 42);
}

TEST(TheArguments, AreRefusedWhenTornOrOutOfRange) {
    const std::vector<const char*> none{"0,0,1,", "0,0,1,", "0,0,1,", "0,0,1,"};
    const auto with = [&](const char* line, const char* times) {
        std::vector<const char*> all = none;
        all[0] = line;
        all.push_back(times);
        return all;
    };
    const char* times = "181000000000 250000000 100000000 0 0 0 0 0 0 0 80";
    EXPECT_NO_THROW(from_arguments(with("1,0,1,/tmp/log", times)));
    EXPECT_THROW(from_arguments({}), std::invalid_argument);
    EXPECT_THROW(from_arguments(none), std::invalid_argument);
    for (const char* line : {"", "1", "1,0,1", "1,0,1,", "9,0,1,/x", "1,0,2,/x", "x,0,1,/x",
                             "4,9,1,/dev/hidraw0", "4,0,1,/dev/hidraw0", "-1,0,1,/x"})
        EXPECT_THROW(from_arguments(with(line, times)), std::invalid_argument) << line;
    for (const char* text : {"", "1", "181000000000 250000000 100000000 0 0 0 0 0 0 0",
                             "181000000000 251000000 100000000 0 0 0 0 0 0 0 80",
                             "9000000000000 250000000 100000000 0 0 0 0 0 0 0 80",
                             "181000000000 250000000 100000000 0 0 0 0 0 0 -1 80"})
        EXPECT_THROW(from_arguments(with("1,0,1,/tmp/log", text)), std::invalid_argument) << text;
}

TEST(TheArguments, OfAPlanOutOfRangeAreNotMade) {
    Plan plan = station_plan();
    plan.silence = 300ms;
    EXPECT_THROW(to_arguments(plan), std::invalid_argument);
}

}  // namespace
}  // namespace tripline::guard
