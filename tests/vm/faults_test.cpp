// The fault table on the wires of a real kernel: from the fault to the open key, and keyed again
// after the cure.
#include "tests/vm/trace.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tripline::shack {
namespace {

struct Row {
    std::string name;
    std::string wire;
    double bound_s;  ///< from the fault to the open key
};

void PrintTo(const Row& row, std::ostream* out) { *out << row.name; }

Wire wire_of(const std::string& name) {
    return name == "gpio" ? Wire::gpio : name == "serial" ? Wire::rts : Wire::dongle;
}

class TheFault : public testing::TestWithParam<Row> {};

TEST_P(TheFault, OpensTheKeyInTimeAndTheStationComesBack) {
    const auto& row = GetParam();
    if (row.wire == "gpio" && !has_gpio()) GTEST_SKIP() << "no GPIO in this guest";
    const auto fault = trace().at("fault " + row.name + " " + row.wire);
    ASSERT_TRUE(fault) << "the fault was not injected";
    const Wire key = wire_of(row.wire);
    EXPECT_TRUE(trace().level(key, *fault)) << "the key was not closed when the fault fell";
    const auto open = trace().next(key, false, *fault);
    ASSERT_TRUE(open) << "the key never opened";
    std::printf("%-24s %-7s open after %6.1f ms\n", row.name.c_str(), row.wire.c_str(), (*open - *fault) * 1e3);
    RecordProperty("open_ms", std::to_string((*open - *fault) * 1e3));
    EXPECT_LE(*open - *fault, row.bound_s);
    EXPECT_TRUE(trace().at("again " + row.name)) << "speech did not key the station again";
}

INSTANTIATE_TEST_SUITE_P(
    , TheFault,
    testing::Values(Row{"daemon-killed", "serial", 0.3}, Row{"daemon-stopped", "serial", 0.3},
                    Row{"guard-killed", "serial", 0.3}, Row{"both-killed", "serial", 0.3},
                    Row{"sound-card-unbound", "serial", 0.3}, Row{"dongle-unplugged", "serial", 0.3},
                    Row{"service-stopped", "serial", 0.3}, Row{"both-killed-dongle", "dongle", 0.3},
                    Row{"both-killed-gpio", "gpio", 0.3}, Row{"upgraded", "serial", 0.3}),
    [](const auto& chosen) {
        std::string name = chosen.param.name;
        std::ranges::replace(name, '-', '_');
        return name;
    });

class AWireOfAnotherProgram : public testing::TestWithParam<Row> {};

TEST_P(AWireOfAnotherProgram, KeepsTheStationAtRestUntilItIsFree) {
    const auto& row = GetParam();
    if (row.wire == "gpio" && !has_gpio()) GTEST_SKIP() << "no GPIO in this guest";
    const auto taken = trace().at("taken " + row.name), freed = trace().at("freed " + row.name);
    ASSERT_TRUE(taken && freed);
    EXPECT_FALSE(trace().next(wire_of(row.wire), true, *taken).value_or(*freed) < *freed)
        << "keyed without all its wires";
    EXPECT_TRUE(trace().at("again " + row.name)) << "the freed wire was not used";
}

INSTANTIATE_TEST_SUITE_P(, AWireOfAnotherProgram,
                         testing::Values(Row{"gpio-line", "gpio", 0}, Row{"serial-port", "serial", 0}),
                         [](const auto& chosen) { return chosen.param.wire; });

TEST(TheRemovedPackage, LeavesEveryWireAtRest) {
    const auto removed = trace().at("removed");
    ASSERT_TRUE(removed);
    EXPECT_FALSE(trace().level(Wire::gpio, *removed));
    EXPECT_FALSE(trace().level(Wire::rts, *removed));
    EXPECT_FALSE(trace().level(Wire::dtr, *removed));
    EXPECT_FALSE(trace().level(Wire::dongle, *removed));
}

}  // namespace
}  // namespace tripline::shack
