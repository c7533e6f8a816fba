// The rows of the fault table that need no sound: daemon and guard dying, hanging, lying.
#include "daemon/guard/client.h"
#include "tests/faults/raw_guard.h"
#include "tests/faults/rig.h"
#include "tests/guard/orders.h"

#include <gtest/gtest.h>
#include <poll.h>
#include <sys/socket.h>

#include <csignal>
#include <cstring>
#include <fstream>

namespace tripline::faults {
namespace {

using Inject = std::function<void(Station&)>;

void inject(const std::string& row, Duration bound, const Inject& fault) {
    while (table().wants(row)) {
        Station station;
        const Instant at = now();
        fault(station);
        station.measure(row, bound, at);
        if (testing::Test::HasFatalFailure()) return;
    }
}

TEST(TheKeyOpens, WhenTheDaemonIsKilled) {
    inject("daemon kill -9", process_death, [](Station& s) { s.daemon->signal(SIGKILL); });
}

TEST(TheKeyOpens, WhenTheDaemonIsStopped) {
    inject("daemon SIGSTOP", any_fault, [](Station& s) { s.daemon->signal(SIGSTOP); });
}

TEST(TheKeyOpens, WhenTheDaemonWritesThroughANullPointer) {
    inject("daemon SIGSEGV", process_death, [](Station& s) { s.daemon->say("segv"); });
}

// Eating the memory takes its time: the clock starts when it is gone.
TEST(TheKeyOpens, WhenTheDaemonRunsOutOfMemory) {
    const std::string row = "daemon out of memory";
    while (table().wants(row)) {
        Station station;
        station.daemon->say("oom");
        const std::string dying = station.daemon->hear("dying ");
        ASSERT_FALSE(dying.empty()) << "it survived";
        station.measure(row, process_death, Instant(std::stoll(dying.substr(6))));
        if (HasFatalFailure()) return;
    }
}

TEST(TheKeyOpens, WhenTheGuardIsKilled) {
    inject("guard kill -9", process_death, [](Station& s) { ::kill(s.guard, SIGKILL); });
}

TEST(TheKeyOpens, WhenTheGuardIsStopped) {
    inject("guard SIGSTOP", any_fault, [](Station& s) { ::kill(s.guard, SIGSTOP); });
}

// A wire that waits in its driver: not the key's own, which no program could open then.
TEST(TheKeyOpens, WhenTheGuardHangsInTheDriverOfAnotherLine) {
    const std::string row = "guard hangs in the driver of another line";
    while (table().wants(row)) {
        const Folder memory;
        const ShimFile shim(memory.path);
        RawGuard guard({}, {}, shim.environment());
        guard.key();
        shim->write_hangs = true;
        guard.order(guard::keyed, 350ms);
        ASSERT_NE(shim->write_failed_ns, 0) << "no wave";
        const Instant hung(shim->write_failed_ns);
        const auto opened = guard.lines.wait("ptt", false, hung);
        ASSERT_TRUE(opened);
        table().add(row, any_fault, hung, *opened);
        ASSERT_TRUE(guard.lines.wait("antenna", false, *opened));
        ASSERT_TRUE(guard.lines.wait("mute", false, *opened));
        guard.order(guard::keyed, 50ms);
        shim->write_hangs = false;
        guard.order(guard::keyed, 50ms);
        EXPECT_FALSE(guard.lines.wait("ptt", true, *opened, 50ms)) << "it goes on after it hung";
    }
}

/// The shim of the guards that this process starts from now on.
struct ForEveryGuard {
    explicit ForEveryGuard(const ShimFile& shim) {
        for (const std::string& set : shim.environment()) {
            const auto equals = set.find('=');
            ::setenv(set.substr(0, equals).c_str(), set.substr(equals + 1).c_str(), 1);
        }
    }
    ~ForEveryGuard() {
        ::unsetenv("LD_PRELOAD");
        ::unsetenv("TRIPLINE_SHIM");
    }
};

// Killed while it closes the key, it can tell nothing afterwards: it has told before.
TEST(TheGuard, TellsOfTheKeyBeforeItClosesIt) {
    const Folder folder;
    const ShimFile shim(folder.path);
    std::filesystem::create_directory(folder.path / "alive");
    guard::Plan plan;
    for (auto& line : plan.wiring) line = {.kind = lines::Kind::file, .device = (folder.path / "lines").string()};
    plan.wiring[lines::index(lines::Role::ptt)].device = (folder.path / "alive/log").string();
    const ForEveryGuard shimmed(shim);
    guard::Client client(plan, GUARD_PROGRAM);
    const auto tend = [&](station::Lines wanted, auto&& done) {
        for (int i = 0; i < 2000 && !done(); ++i, ::poll(nullptr, 0, 1))
            client.tend(wanted, true, std::chrono::steady_clock::now());
        return done();
    };
    ASSERT_TRUE(tend({}, [&] { return client.status().sound(); })) << client.notice();
    shim->write_hangs = true;
    // Given up by the client before it reads what the guard has told.
    client.tend(guard::keyed, true, std::chrono::steady_clock::now());
    for (int i = 0; i < 1000 && shim->write_failed_ns == 0; ++i) ::poll(nullptr, 0, 1);
    ASSERT_NE(shim->write_failed_ns, 0) << "it does not close the key";
    EXPECT_EQ(client.status().closings, 0U);
    ::kill(client.pid(), SIGKILL);
    shim->write_hangs = false;
    ASSERT_TRUE(tend({}, [&] { return client.status().starts == 2 && client.status().sound(); })) << client.notice();
    EXPECT_EQ(client.status().closings, 1U);
    EXPECT_FALSE(client.status().driven.ptt);
}

TEST(TheKeyOpens, WhenTheBackstopIsKilled) {
    inject("backstop kill -9", process_death, [](Station& s) { ::kill(s.backstop(), SIGKILL); });
}

// The guard has nobody behind it then, and says so by opening the key.
TEST(TheKeyOpens, WhenTheBackstopIsStopped) {
    const std::string row = "backstop SIGSTOP";
    while (table().wants(row)) {
        Station station;
        const pid_t backstop = station.backstop();
        const Instant at = now();
        ::kill(backstop, SIGSTOP);
        station.measure(row, any_fault, at);
        ::kill(backstop, SIGCONT);  // stopped, it would outlive its daemon, and the test
    }
}

TEST(TheKeyOpens, WhenGuardAndBackstopAreStopped) {
    inject("guard and backstop SIGSTOP", any_fault, [](Station& s) {
        ::kill(s.backstop(), SIGSTOP);
        ::kill(s.guard, SIGSTOP);
    });
}

TEST(TheKeyOpens, WhenGuardAndBackstopAreKilled) {
    inject("guard and backstop kill -9", process_death, [](Station& s) {
        const pid_t backstop = s.backstop();
        ::kill(backstop, SIGKILL);
        ::kill(s.guard, SIGKILL);
    });
}

TEST(TheKeyOpens, WhenDaemonAndGuardAreKilled) {
    inject("daemon and guard kill -9", process_death, [](Station& s) {
        ::kill(s.guard, SIGKILL);
        s.daemon->signal(SIGKILL);
    });
}

TEST(TheKeyOpens, WhenDaemonAndGuardAreStopped) {
    const std::string row = "daemon and guard SIGSTOP";
    while (table().wants(row)) {
        Station station;
        const Instant at = now();
        ::kill(station.guard, SIGSTOP);
        station.daemon->signal(SIGSTOP);
        station.measure(row, any_fault, at);
        ::kill(station.guard, SIGCONT);  // stopped, it would outlive its daemon, and the test
    }
}

// It would hold the devices for ever: no daemon is left to kill it.
TEST(TheGuard, IsKilledByItsBackstopWhenItIsStopped) {
    RawGuard guard;
    guard.key();
    ::kill(guard.pid(), SIGSTOP);
    const auto state = [&] {
        std::ifstream in("/proc/" + std::to_string(guard.pid()) + "/stat");
        std::string id, name, letter;
        in >> id >> name >> letter;
        return letter;
    };
    for (int i = 0; i < 1000 && state() != "Z"; ++i) ::poll(nullptr, 0, 1);
    EXPECT_EQ(state(), "Z");
}

// One that cannot be reached any more takes no more bytes, which a guard on the air notices.
TEST(TheGuard, EndsWhenItsBackstopIsStopped) {
    Station station;
    const pid_t backstop = station.backstop();
    const Instant at = now();
    ::kill(backstop, SIGSTOP);
    EXPECT_TRUE(station.lines.wait("ptt", false, at, 15s));
    ::kill(backstop, SIGKILL);
}

// This process stands for the service manager: it waits for the daemon's end, then runs
// what releases the lines.
TEST(TheKeyOpens, WhenAllAreKilledAndTheReleaseRuns) {
    inject("daemon, guard and backstop kill -9, then release", process_death, [](Station& s) {
        ::kill(s.backstop(), SIGKILL);
        ::kill(s.guard, SIGKILL);
        s.daemon->signal(SIGKILL);
        s.daemon->wait();
        Child release({FAULT_KEYER, "release", s.folder.path.string()});
        EXPECT_EQ(release.wait(), 0);
    });
}

TEST(TheKeyOpens, WhenALineCannotBeWritten) {
    for (const int error : {EIO, EBUSY, ENODEV}) {
        const std::string row = std::string("line write fails: ") + strerrorname_np(error);
        while (table().wants(row)) {
            Station station;
            station.shim->write_errno = error;
            ASSERT_FALSE(station.daemon->hear("fault").empty());
            station.measure(row, any_fault, Instant(station.shim->write_failed_ns));
            if (HasFatalFailure()) return;
        }
    }
}

TEST(TheGuard, TriesAgainToReleaseALineThatDidNotGoToRest) {
    Station station;
    const LineLog wave(station.folder.path / "alive" / "log");
    ASSERT_TRUE(wave.wait("alive", true, now()));
    const Instant at = now();
    station.shim->writes_to_fail = 5;
    station.shim->write_errno = EIO;
    const auto rested = wave.wait("alive", false, at);
    ASSERT_TRUE(rested);
    EXPECT_EQ(station.shim->writes_to_fail, 0);
}

TEST(TheKeyOpens, WhenTheGuardIsToldToEnd) {
    for (const int signal : {SIGTERM, SIGINT, SIGQUIT})
        inject(std::string("guard SIG") + ::sigabbrev_np(signal) + " storm", any_fault,
               [signal](Station& s) {
                   for (int i = 0; i < 1000; ++i) ::kill(s.guard, signal);
               });
}

TEST(TheKeyOpens, WhenTheMachineWasSuspended) {
    inject("suspend of a minute (stepped CLOCK_BOOTTIME)", any_fault,
           [](Station& s) { s.shim->boottime_step_ns = 60'000'000'000; });
}

TEST(TheKeyStays, WhenTheWallClockIsSet) {
    const std::string row = "daemon kill -9 after clock steps";
    while (table().wants(row)) {
        Station station;
        const Instant at = now();
        for (const std::int64_t step : {-86400LL, 86400LL, 31536000LL, 0LL}) {
            station.shim->realtime_step_ns = step * 1'000'000'000;
            ::poll(nullptr, 0, 100);
        }
        EXPECT_FALSE(station.lines.wait("ptt", false, at, 1ms));
        const Instant death = now();
        station.daemon->signal(SIGKILL);
        station.measure(row, process_death, death);
    }
}

TEST(TheKeyStays, WhenSignalsThatMeanNothingToTheGuardComeInAStorm) {
    for (const int signal : {SIGHUP, SIGPIPE, SIGUSR1, SIGUSR2, SIGALRM, SIGTSTP, SIGTTIN, SIGTTOU,
                             SIGXFSZ, SIGRTMIN}) {
        Station station;
        const Instant at = now();
        for (int i = 0; i < 1000; ++i) ::kill(station.guard, signal);
        EXPECT_FALSE(station.lines.wait("ptt", false, at, 300ms)) << ::strsignal(signal);
    }
}

// Ctrl-Z, Ctrl-\ and Ctrl-C at a terminal go to the group in its foreground.
TEST(TheGuard, IsInASessionOfItsOwn) {
    Station station;
    EXPECT_EQ(::getsid(station.guard), station.guard);
}

// A wave goes on by rising edges; the edge to rest of the release itself is not counted.
TEST(TheAliveLine, HasNoRisingEdgeLaterThanOnePeriodAfterAFault) {
    constexpr Duration period = 100ms;
    const std::vector<std::pair<const char*, Inject>> faults{
        {"daemon kill -9", [](Station& s) { s.daemon->signal(SIGKILL); }},
        {"daemon SIGSTOP", [](Station& s) { s.daemon->signal(SIGSTOP); }},
        // Both: a daemon that runs starts another guard, and the wave with it.
        {"both SIGSTOP", [](Station& s) {
             s.daemon->signal(SIGSTOP);
             ::kill(s.guard, SIGSTOP);
         }}};
    for (const auto& [name, fault] : faults)
        for (int i = 0; i < 5; ++i) {
            Station station;
            const LineLog wave(station.folder.path / "alive" / "log");
            ASSERT_TRUE(wave.wait("alive", true, now())) << "no wave";
            const Instant at = now();
            fault(station);
            ::poll(nullptr, 0, 500);
            for (const Record& record : wave.records())
                EXPECT_FALSE(record.active && record.at > at + period) << name;
            ::kill(station.guard, SIGCONT);  // stopped, it would outlive its daemon, and the test
        }
}

TEST(TheGuard, TakesNoHeapOnceItRuns) {
    Station station;
    const int before = station.shim->waits;
    const Instant told = now();
    station.daemon->say("rest");
    ASSERT_TRUE(station.lines.wait("mute", false, told));
    station.daemon->say("key");
    ASSERT_FALSE(station.daemon->hear("keyed").empty());
    ::poll(nullptr, 0, 300);
    const Instant at = now();
    station.daemon->signal(SIGKILL);
    ASSERT_TRUE(station.lines.wait("mute", false, at));
    EXPECT_GT(station.shim->waits, before + 10);
    EXPECT_EQ(station.shim->allocations, 0);
}

}  // namespace
}  // namespace tripline::faults
