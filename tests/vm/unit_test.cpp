// The package on a bare machine, and the unit as it runs there.
#include "tests/vm/trace.h"

#include <gtest/gtest.h>

#include <regex>

namespace tripline::shack {
namespace {

std::size_t count(const std::string& text, const std::string& wanted) {
    std::size_t found = 0;
    for (auto at = text.find(wanted); at != std::string::npos; at = text.find(wanted, at + 1)) ++found;
    return found;
}

TEST(ThePackage, OnAMachineWithoutSoundRunsAndWaits) {
    const std::string state = result("arrival.state");
    EXPECT_NE(state.find("ActiveState=active"), std::string::npos) << state;
    EXPECT_NE(state.find("NRestarts=0"), std::string::npos) << state;
    EXPECT_NE(state.find("StatusText=waiting"), std::string::npos) << state;
}

TEST(ThePackage, SaysOnceThatThereIsNoSoundDevice) {
    const std::string journal = result("arrival.journal");
    EXPECT_EQ(count(journal, "no sound: "), 1U) << journal;
}

// By ls -l: group read and write, and whose.
TEST(ThePackage, GivesTheDevicesToItsGroup) {
    const std::string devices = result("devices.log");
    for (const std::string device : {"hidraw0", "gpiochip0"}) {
        EXPECT_TRUE(std::regex_search(devices, std::regex("crw-rw---- 1 root tripline .*/dev/" + device + "\n"))) << devices;
    }
}

TEST(TheUnit, RunsAsItsOwnUserWithoutNewPrivileges) {
    const std::string processes = result("processes.log");
    EXPECT_FALSE(std::regex_search(processes, std::regex(R"(Uid:\s+0\b)"))) << processes;
    EXPECT_EQ(count(processes, "NoNewPrivs:\t1"), 3U) << processes;
}

// Read back with chrt: the daemon's sound and keying threads, the guard, its backstop.
TEST(TheUnit, HasItsRealTimePriority) {
    const std::string processes = result("processes.log");
    EXPECT_EQ(count(processes, "policy: SCHED_FIFO"), 4U) << processes;
}

TEST(TheUnit, IsHardenedTo2point5OrBetter) {
    const std::string security = result("security.log");
    std::smatch match;
    ASSERT_TRUE(std::regex_search(security, match, std::regex(R"(Overall exposure level[^:]*: ([0-9.]+))"))) << security;
    std::printf("systemd-analyze security: %s\n", match[1].str().c_str());
    EXPECT_LE(std::stod(match[1]), 2.5);
}

// Common practice: a UART driver raises DTR and RTS when its port is opened. What happens here is printed.
TEST(ASerialPort, OpenedByAnyProgramRaisesRts) {
    const auto opening = trace().at("serial opening"), closed = trace().at("serial closed");
    ASSERT_TRUE(opening && closed);
    const auto changes = trace().between(Wire::rts, *opening, *closed + 0.3);
    for (const auto& change : changes) {
        std::printf("RTS %s %.1f ms after the opening\n", change.on ? "on" : "off", (change.at - *opening) * 1e3);
    }
    ASSERT_FALSE(changes.empty());
    EXPECT_TRUE(changes.front().on);
}

// The pulse that the daemon cannot avoid when it opens the port, measured.
TEST(ASerialPort, OpenedByTheStationIsClearedAtOnce) {
    const auto part = trace().at("part unit"), end = trace().at("part agreement");
    ASSERT_TRUE(part && end);
    const auto changes = trace().between(Wire::rts, *part, *end);
    ASSERT_GE(changes.size(), 2U);
    ASSERT_TRUE(changes[0].on);
    std::printf("RTS was up for %.3f ms while the station opened the port\n", (changes[1].at - changes[0].at) * 1e3);
    EXPECT_LT(changes[1].at - changes[0].at, 0.020);
}

// It leaves the port at speed 0, for which Linux does not raise the lines at the next open.
TEST(ASerialPort, OpenedByTheStationAgainStaysLow) {
    const auto restart = trace().at("part agreement"), played = trace().at("play key-on-serial");
    ASSERT_TRUE(restart && played);
    EXPECT_TRUE(trace().between(Wire::rts, *restart, *played).empty());
    EXPECT_TRUE(trace().between(Wire::dtr, *restart, *played).empty());
}

}  // namespace
}  // namespace tripline::shack
