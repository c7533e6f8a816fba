// Rows of the fault table in which the daemon lives and talks nonsense, or its disk is full.
#include "tests/faults/raw_guard.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/mount.h>

#include <fstream>
#include <functional>

namespace tripline::faults {
namespace {

using guard::Condition;

void expect_open(const std::string& row, const RawGuard& guard, Instant fault) {
    const auto opened = guard.lines.wait("ptt", false, fault);
    ASSERT_TRUE(opened) << row << ": the key stayed closed";
    table().add(row, any_fault, fault, *opened);
}

void misbehave(const std::string& row, const std::vector<Condition>& named,
               const std::function<void(RawGuard&)>& fault) {
    while (table().wants(row)) {
        RawGuard guard;
        guard.key();
        const Instant at = now();
        fault(guard);
        expect_open(row, guard, at);
        if (testing::Test::HasFatalFailure()) return;
        // A guard at rest reports once a second; the report that found the socket full of others was dropped.
        EXPECT_TRUE(guard.reports_one_of(named, 3s)) << row;
    }
}

TEST(TheKeyOpens, WhenAMessageIsMalformed) {
    misbehave("message malformed", {Condition::malformed}, [](RawGuard& guard) {
        guard::Order order = guard.next(guard::keyed);
        order.check ^= 1;
        guard.send(guard::bytes(order));
    });
}

TEST(TheKeyOpens, WhenAMessageIsTruncated) {
    misbehave("message truncated", {Condition::malformed}, [](RawGuard& guard) {
        guard.send(guard::bytes(guard.next(guard::keyed)).first(9));
    });
}

TEST(TheKeyOpens, WhenAMessageIsTooLong) {
    misbehave("message of 4096 bytes", {Condition::malformed}, [](RawGuard& guard) {
        guard.send(std::vector<std::byte>(4096));
    });
}

// It tells the backstop of each; on a busy machine that one falls behind, and the guard gives up and releases.
TEST(TheKeyOpens, WhenMessagesFlood) {
    misbehave("messages flooding", {Condition::flood, Condition::stopped}, [](RawGuard& guard) {
        for (const Instant end = now() + 50ms; now() < end;)
            guard.send(guard::bytes(guard.next(guard::keyed)));
    });
}

TEST(TheKeyOpens, WhenAnOrderContradictsItself) {
    misbehave("key ordered without antenna", {Condition::contradictory}, [](RawGuard& guard) {
        guard.send(guard::bytes(guard.next({.ptt = true, .mute = true, .antenna = false})));
    });
}

// The daemon orders the key for ever; the guard was given one second.
TEST(TheKeyOpens, WhenTheGuardsOwnLongestTransmissionIsOver) {
    guard::Plan plan;
    plan.longest = 1s;
    const std::string row = "key ordered for ever, from the limit on";
    while (table().wants(row)) {
        RawGuard guard(plan);
        const Instant limit = guard.key() + plan.longest;
        guard.order(guard::keyed, 1050ms);
        expect_open(row, guard, limit);
        if (HasFatalFailure()) return;
        EXPECT_TRUE(guard.reports(Condition::too_long));
    }
}

/// A small file system of its own over the folder of the alive line's log.
struct SmallDisk {
    explicit SmallDisk(std::string where) : path(std::move(where)) {
        mounted = ::mount("tripline-test", path.c_str(), "tmpfs", 0, "size=16k") == 0;
    }
    ~SmallDisk() {
        if (mounted) ::umount2(path.c_str(), MNT_DETACH);
    }
    static void fill(const std::string& file) {
        // Quickly, or the guard takes the silence meanwhile for the daemon's end.
        for (const std::size_t size : {1024, 32, 1}) {
            std::ofstream out(file, std::ios::app);
            while (out.write(std::string(size, '\n').data(), static_cast<std::streamsize>(size)).flush()) {
            }
        }
    }
    std::string path;
    bool mounted = false;
};

TEST(TheKeyOpens, WhenTheDiskIsFull) {
    const std::string row = "disk full while logging";
    while (table().wants(row)) {
        std::unique_ptr<SmallDisk> disk;
        RawGuard guard({}, [&](const std::filesystem::path& folder) {
            disk = std::make_unique<SmallDisk>(folder / "alive");
        });
        if (!disk->mounted) GTEST_SKIP() << "only root can mount a small disk";
        guard.key();
        SmallDisk::fill(disk->path + "/other");
        SmallDisk::fill(disk->path + "/log");
        const Instant at = now();
        guard.order(guard::keyed, 100ms);
        expect_open(row, guard, at);
        if (HasFatalFailure()) return;
        EXPECT_TRUE(guard.reports(Condition::line_failed));
    }
}

}  // namespace
}  // namespace tripline::faults
