#include "daemon/guard/client.h"

#include "daemon/guard/arguments.h"
#include "daemon/lines/bank.h"
#include "tests/guard/orders.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <functional>

namespace tripline::guard {
namespace {

struct TheClient : testing::Test {
    std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("tripline-client-" + std::to_string(::getpid()));
    Plan plan;

    void SetUp() override {
        std::filesystem::create_directory(folder);
        for (auto& line : plan.wiring) line = {.kind = lines::Kind::file, .device = log_path()};
    }
    void TearDown() override { std::filesystem::remove_all(folder); }

    std::string log_path() const { return (folder / "lines").string(); }
    std::string log() const {
        std::ifstream in(log_path());
        return {std::istreambuf_iterator<char>(in), {}};
    }
    bool well = true;
    /// Tends until `done`; false when it is not within that time, ample for a loaded machine.
    bool tend(Client& client, station::Lines wanted, const std::function<bool()>& done, std::chrono::seconds within = 20s) {
        const auto end = std::chrono::steady_clock::now() + within;
        while (std::chrono::steady_clock::now() < end) {
            client.tend(wanted, well, std::chrono::steady_clock::now());
            if (done()) return true;
            ::poll(nullptr, 0, 2);
        }
        return false;
    }
    bool reach(Client& client, station::Lines lines) {
        return tend(client, at_rest, [&] { return client.status().sound(); }) &&
               tend(client, lines, [&] { return client.status().driven == lines; });
    }
};

TEST_F(TheClient, StartsAGuardThatRestsThenKeysInOrder) {
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed)) << client.notice();
    ASSERT_TRUE(reach(client, at_rest));
    const std::string text = log();
    const std::array order{"ptt rest",    "mute active", "antenna active", "ptt active",
                           "ptt rest",    "antenna rest", "mute rest"};
    std::size_t at = 0;
    for (const char* record : order) {
        at = text.find(record, at);
        ASSERT_NE(at, std::string::npos) << record << " in\n" << text;
    }
}

TEST_F(TheClient, StartsAnotherGuardWhenOneIsKilledWhileKeyed) {
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    ASSERT_EQ(::kill(client.pid(), SIGKILL), 0);
    ASSERT_TRUE(tend(client, keyed, [&] { return client.status().link != Link::up; }));
    ASSERT_TRUE(tend(client, keyed, [&] { return client.status().link == Link::up; }));
    EXPECT_EQ(client.status().starts, 2U);
    EXPECT_FALSE(client.status().driven.ptt);
    EXPECT_FALSE(tend(client, keyed, [&] { return client.status().driven.ptt; }, 2s))
        << "a new guard keys only after an order to rest";
}

pid_t backstop_of(const Client& client) {
    const std::string guard = std::to_string(client.pid());
    std::ifstream children("/proc/" + guard + "/task/" + guard + "/children");
    pid_t child = -1;
    return children >> child ? child : -1;
}

// Stopped again and again: waking it is not enough.
TEST_F(TheClient, DoesNotLetAStoppedBackstopKeepTheLines) {
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    const pid_t backstop = backstop_of(client);
    const pid_t guard = client.pid();
    ASSERT_EQ(::kill(backstop, SIGSTOP), 0);
    ASSERT_EQ(::kill(guard, SIGSTOP), 0);
    ASSERT_TRUE(tend(client, at_rest, [&] { return ::kill(backstop, SIGSTOP), client.pid() != guard; }));
    EXPECT_TRUE(tend(client, at_rest, [&] { return client.status().starts == 2 && client.status().sound(); }));
    EXPECT_GT(log().rfind("ptt rest"), log().rfind("ptt active"));
}

TEST_F(TheClient, RestsTheLinesWhenItClosesWithGuardAndBackstopStopped) {
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    ASSERT_EQ(::kill(backstop_of(client), SIGSTOP), 0);
    ASSERT_EQ(::kill(client.pid(), SIGSTOP), 0);
    EXPECT_EQ(client.close(), Ending::released);
    EXPECT_GT(log().rfind("ptt rest"), log().rfind("ptt active"));
}

TEST_F(TheClient, DoesNotSayThatALineRestsWhichCouldNotBeDriven) {
    ASSERT_EQ(::mkfifo(log_path().c_str(), 0600), 0);
    lines::Descriptor reader(::open(log_path().c_str(), O_RDONLY | O_NONBLOCK));
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    { const lines::Descriptor closed(std::move(reader)); }
    ASSERT_TRUE(tend(client, at_rest, [&] { return client.status().starts >= 3; }));
    EXPECT_LE(client.status().starts, 4U) << "with a back-off";
    EXPECT_TRUE(client.status().driven.ptt);
    EXPECT_EQ(client.close(), Ending::unknown);
}

TEST_F(TheClient, KnowsNothingOfLinesThatNoGuardCouldOpen) {
    plan.wiring[0].device = (folder / "missing" / "log").string();
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(tend(client, at_rest, [&] { return *client.notice() != '\0'; }));
    EXPECT_EQ(client.close(), Ending::unknown);
}

TEST_F(TheClient, RestsTheLinesItselfWhenItClosesWhileNoGuardIsLeft) {
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    ASSERT_EQ(::kill(backstop_of(client), SIGKILL), 0);
    ASSERT_EQ(::kill(client.pid(), SIGKILL), 0);
    EXPECT_EQ(client.close(), Ending::released);
    EXPECT_GT(log().rfind("ptt rest"), log().rfind("ptt active"));
}

TEST_F(TheClient, LetsGoOfTheGuardWhichReleasesAndExits) {
    pid_t guard = -1;
    {
        Client client(plan, GUARD_PROGRAM);
        ASSERT_TRUE(reach(client, keyed));
        guard = client.pid();
    }
    EXPECT_EQ(::kill(guard, 0), -1);
    EXPECT_NE(log().rfind("ptt rest"), std::string::npos);
    EXPECT_GT(log().rfind("ptt rest"), log().rfind("ptt active"));
}

TEST_F(TheClient, TellsWhyAGuardWillNotStart) {
    plan.wiring[0].device = (folder / "missing" / "log").string();
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(tend(client, at_rest, [&] { return *client.notice() != '\0'; }));
    EXPECT_NE(std::string(client.notice()).find("missing/log: No such file"), std::string::npos);
    EXPECT_TRUE(tend(client, at_rest, [&] { return client.status().link == Link::down; }));
}

TEST_F(TheClient, StartsAFailingGuardLessAndLessOften) {
    plan.wiring[0].device = (folder / "missing" / "log").string();
    Client client(plan, GUARD_PROGRAM);
    tend(client, at_rest, [] { return false; }, 2s);  // two seconds: at 0, 0.1, 0.3, 0.7, 1.5 s
    EXPECT_GE(client.status().starts, 3U);
    EXPECT_LE(client.status().starts, 5U);
}

TEST_F(TheClient, DoesNotWaitLongerAndLongerWhileALineMayBeActive) {
    std::filesystem::create_directory(folder / "in");
    for (auto& line : plan.wiring) line.device = (folder / "in" / "lines").string();
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    std::filesystem::rename(folder / "in", folder / "gone");
    ASSERT_EQ(::kill(client.pid(), SIGKILL), 0);
    tend(client, keyed, [] { return false; }, 2s);  // two seconds: every 0.1 s, not 0.1, 0.3, 0.7, 1.5 s
    EXPECT_GE(client.status().starts, 8U);
    std::filesystem::rename(folder / "gone", folder / "in");
    EXPECT_TRUE(tend(client, at_rest, [&] { return client.status().sound(); }));
}

TEST_F(TheClient, WaitsForAGuardThatReleasesWithLongLags) {
    plan.steps.ptt.lag = plan.steps.antenna.lag = 600ms;
    {
        Client client(plan, GUARD_PROGRAM);
        ASSERT_TRUE(reach(client, keyed));
    }
    EXPECT_GT(log().rfind("mute rest"), log().rfind("antenna rest"));
    EXPECT_GT(log().rfind("antenna rest"), log().rfind("ptt rest"));
}

TEST_F(TheClient, StopsTheWaveWhenSomethingIsWrong) {
    Client client(plan, GUARD_PROGRAM);
    const auto rises = [this] {
        const std::string text = log();
        long count = 0;
        for (auto at = text.find("alive active"); at != std::string::npos; at = text.find("alive active", at + 1)) ++count;
        return count;
    };
    ASSERT_TRUE(tend(client, at_rest, [&] { return rises() >= 3; }));
    well = false;
    const auto told = std::chrono::steady_clock::now();
    tend(client, at_rest, [&] { return std::chrono::steady_clock::now() - told > plan.alive_period; });
    const long before = rises();
    EXPECT_FALSE(tend(client, at_rest, [&] { return rises() > before; }, 2s));
    EXPECT_TRUE(client.status().sound()) << "the guard is not at fault";
    well = true;
    EXPECT_TRUE(tend(client, at_rest, [&] { return rises() > before; }));
}

TEST_F(TheClient, LeavesNobodyWithTheLinesWhenItEnds) {
    for (int i = 0; i < 10; ++i) {
        { Client client(plan, GUARD_PROGRAM); reach(client, keyed); }
        EXPECT_NO_THROW(lines::Bank{plan.wiring});
    }
}

// The backstop opens the key, then the rest with the lags; only then is there another guard.
TEST_F(TheClient, WaitsForTheBackstopOfAGuardThatWasKilled) {
    plan.steps.ptt.lag = plan.steps.antenna.lag = 200ms;
    Client client(plan, GUARD_PROGRAM);
    ASSERT_TRUE(reach(client, keyed));
    ASSERT_EQ(::kill(client.pid(), SIGKILL), 0);
    ASSERT_TRUE(tend(client, at_rest, [&] { return client.status().starts == 2 && client.status().sound(); }))
        << client.notice();
    EXPECT_STREQ(client.notice(), "") << "nothing was found busy";
}

/// Exit status of a guard started as nobody should.
int started_wrong(const Plan& plan, const std::function<void()>& prepare) {
    std::vector<std::string> texts = to_arguments(plan);
    std::vector<char*> arguments{const_cast<char*>(GUARD_PROGRAM)};
    for (std::string& text : texts) arguments.push_back(text.data());
    arguments.push_back(nullptr);
    const pid_t child = ::fork();
    if (child == 0) {
        prepare();
        ::execv(GUARD_PROGRAM, arguments.data());
        ::_exit(99);
    }
    int status = -1;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(TheClient, IsTheOnlyOneWhoStartsAGuard) {
    const std::vector<std::pair<const char*, std::function<void()>>> ways{
        {"no socket", [] { ::close(3); }},
        {"a file for a socket", [] { ::dup2(::open("/dev/null", O_RDWR), 3); }},
        {"a stream", [] {
             int pair[2];
             ::socketpair(AF_UNIX, SOCK_STREAM, 0, pair);
             ::dup2(pair[0], 3);
         }},
        {"nothing at all", [] { ::close_range(0, ~0U, 0); }},
        {"no standard error", [] {
             int pair[2];
             ::socketpair(AF_UNIX, SOCK_SEQPACKET, 0, pair);
             ::dup2(pair[0], 3);
             ::close(2);
         }}};
    for (const auto& [name, way] : ways) {
        EXPECT_EQ(started_wrong(plan, way), 2) << name;
        EXPECT_FALSE(std::filesystem::exists(log_path())) << name << ": the line was touched";
    }
}

TEST_F(TheClient, RefusesAProgramThatIsNotThere) {
    try {
        Client(plan, "/nowhere/tripline-guard");
        FAIL();
    } catch (const std::system_error& error) {
        const std::string said = error.what();
        EXPECT_NE(said.find("the guard, which holds the lines, can't be run"), std::string::npos) << said;
        EXPECT_NE(said.find("install the package, or build the target tripline-guard"), std::string::npos) << said;
        EXPECT_NE(said.find("/nowhere/tripline-guard: No such file or directory"), std::string::npos) << said;
    }
}

}  // namespace
}  // namespace tripline::guard
