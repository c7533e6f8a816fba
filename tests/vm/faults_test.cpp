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
    double bound_s;      ///< from the fault to the open key
    bool asked = false;  ///< the fault is a program that has the service stopped: time counts from its SIGTERM
};

void PrintTo(const Row& row, std::ostream* out) { *out << row.name; }

Wire wire_of(const std::string& name) {
    return name == "gpio" ? Wire::gpio : name == "serial" ? Wire::rts : Wire::dongle;
}

class TheFault : public testing::TestWithParam<Row> {};

TEST_P(TheFault, OpensTheKeyInTimeAndTheStationComesBack) {
    const auto& row = GetParam();
    auto fault = trace().at("fault " + row.name + " " + row.wire);
    ASSERT_TRUE(fault) << "the fault was not injected";
    if (row.asked) fault = trace().at("told to stop", *fault);
    ASSERT_TRUE(fault) << "the service was not told to stop";
    const Wire key = wire_of(row.wire);
    EXPECT_TRUE(trace().level(key, *fault)) << "the key was not closed when the fault fell";
    const auto open = trace().next(key, false, *fault);
    ASSERT_TRUE(open) << "the key never opened";
    const auto rest = trace().at_rest(*open);
    ASSERT_TRUE(rest) << "not every wire went to rest";
    std::printf("%-24s %-7s open after %6.1f ms, all wires at rest after %6.1f ms\n", row.name.c_str(), row.wire.c_str(),
                (*open - *fault) * 1e3, (*rest - *fault) * 1e3);
    RecordProperty("open_ms", std::to_string((*open - *fault) * 1e3));
    EXPECT_LE(*open - *fault, row.bound_s);
    EXPECT_LT(*rest, trace().next(key, true, *open).value_or(*rest + 1)) << "keyed again before all wires were at rest";
    EXPECT_TRUE(trace().at("again " + row.name + " " + row.wire)) << "speech did not key the station again";
}

// With daemon, guard and backstop dead, a serial line falls as its port is closed, and this GPIO chip's pull takes
// over; the dongle's pin waits for ExecStopPost, which an emulated machine starts late.
INSTANTIATE_TEST_SUITE_P(
    , TheFault,
    testing::Values(Row{"daemon-killed", "serial", 0.3}, Row{"daemon-stopped", "serial", 0.3},
                    Row{"guard-killed", "serial", 0.3}, Row{"both-killed", "serial", 0.3}, Row{"all-killed", "serial", 0.3},
                    Row{"sound-card-unbound", "serial", 0.3}, Row{"dongle-unplugged", "serial", 0.3},
                    Row{"service-stopped", "serial", 0.3, true}, Row{"both-killed", "dongle", 0.3},
                    Row{"all-killed", "dongle", 3.0}, Row{"both-killed", "gpio", 0.3}, Row{"all-killed", "gpio", 0.3},
                    Row{"upgraded", "serial", 0.3, true}),
    [](const auto& chosen) {
        std::string name = chosen.param.name + "_" + chosen.param.wire;
        std::ranges::replace(name, '-', '_');
        return name;
    });

// The guard opens the key of a daemon that has stopped; the service manager makes an end of it.
TEST(TheStoppedDaemon, IsEndedByTheServiceManagersWatchdog) {
    const std::string journal = result("journal.log");
    EXPECT_NE(journal.find("triplined.service: Watchdog timeout"), std::string::npos);
    EXPECT_NE(journal.find("triplined.service: Failed with result 'watchdog'"), std::string::npos);
}

class AWireOfAnotherProgram : public testing::TestWithParam<Row> {};

TEST_P(AWireOfAnotherProgram, KeepsTheStationAtRestUntilItIsFree) {
    const auto& row = GetParam();
    const auto taken = trace().at("taken " + row.name), freed = trace().at("freed " + row.name);
    ASSERT_TRUE(taken && freed);
    EXPECT_FALSE(trace().next(wire_of(row.wire), true, *taken).value_or(*freed) < *freed)
        << "keyed without all its wires";
    EXPECT_TRUE(trace().at("again " + row.name)) << "the freed wire was not used";
    const std::string state = result("taken-" + row.name + ".state"), journal = result("taken-" + row.name + ".journal");
    EXPECT_NE(state.find("ActiveState=active"), std::string::npos) << state;
    EXPECT_NE(state.find("StatusText=waiting"), std::string::npos) << state;
    EXPECT_NE(journal.find("another program"), std::string::npos) << journal;
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
