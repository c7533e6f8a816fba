// Who holds the control socket already, however he behaves.
#include "daemon/control/claim.h"
#include "daemon/control/limits.h"
#include "daemon/control/link.h"
#include "daemon/control/other_station.h"

#include <gtest/gtest.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <cstring>
#include <filesystem>
#include <thread>

namespace tripline::control {
namespace {

using std::chrono_literals::operator""s;

/// Somebody who listens and takes nobody in.
struct TheControlSocketsPlace : testing::Test {
    std::filesystem::path folder = std::filesystem::temp_directory_path() / ("tripline-claim-" + std::to_string(::getpid()));
    std::string path = (folder / "control.sock").string();
    lines::Descriptor other{::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0)};
    sockaddr_un address{};

    void SetUp() override {
        std::filesystem::create_directory(folder);
        address.sun_family = AF_UNIX;
        std::memcpy(address.sun_path, path.data(), path.size());
        ASSERT_EQ(::bind(other.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
        ASSERT_EQ(::listen(other.get(), 0), 0);
    }
    void TearDown() override { std::filesystem::remove_all(folder); }

    std::vector<lines::Descriptor> everyone_who_has_room() const {
        std::vector<lines::Descriptor> waiting;
        do waiting.emplace_back(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0));
        while (::connect(waiting.back().get(), reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
        return waiting;
    }
    std::string refusal() const {
        try {
            (void)claim(path);
        } catch (const AnotherStation& refused) {
            return refused.what();
        }
        return {};
    }
};

template <class Act>
Duration taken_by(Act act) {
    const auto began = std::chrono::steady_clock::now();
    act();
    return std::chrono::steady_clock::now() - began;
}

TEST_F(TheControlSocketsPlace, IsRefusedAsLongAsSomebodyListensThoughHeSaysNothing) {
    EXPECT_LT(taken_by([&] { EXPECT_NE(refusal().find("process " + std::to_string(::getpid())), std::string::npos); }), 2s);
}

TEST_F(TheControlSocketsPlace, IsRefusedSoonWhereSomebodyStandsStillAndTakesNobodyIn) {
    const auto waiting = everyone_who_has_room();
    EXPECT_LT(taken_by([&] { EXPECT_NE(refusal().find("takes no connection"), std::string::npos); }), 2s);
}

TEST_F(TheControlSocketsPlace, IsRefusedSoonWhereSomebodySendsALineThatDoesNotEnd) {
    std::jthread sender([&](const std::stop_token& stop) {
        const lines::Descriptor peer(::accept(other.get(), nullptr, nullptr));
        while (!stop.stop_requested() && ::send(peer.get(), "x", 1, MSG_NOSIGNAL) == 1) std::this_thread::sleep_for(10ms);
    });
    EXPECT_LT(taken_by([&] { EXPECT_FALSE(refusal().empty()); }), 2s);
}

TEST_F(TheControlSocketsPlace, IsRefusedSoonWhereSomebodySendsLinesThatAnswerNothing) {
    std::jthread sender([&](const std::stop_token& stop) {
        const lines::Descriptor peer(::accept(other.get(), nullptr, nullptr));
        while (!stop.stop_requested() && ::send(peer.get(), "{}\n", 3, MSG_NOSIGNAL) == 3) std::this_thread::sleep_for(10ms);
    });
    EXPECT_LT(taken_by([&] { EXPECT_FALSE(refusal().empty()); }), 2s);
}

TEST_F(TheControlSocketsPlace, KeepsNoOperatorsToolWaitingForEver) {
    const auto waiting = everyone_who_has_room();
    EXPECT_LT(taken_by([&] { EXPECT_THROW(Link(path, answer_within), NoLink); }), 2s);
}

TEST_F(TheControlSocketsPlace, IsToldWithItsOwnerWhereItIsAnotherUsers) {
    if (::geteuid() != 0) GTEST_SKIP() << "only root can become another";
    ::chmod(path.c_str(), 0600);
    int pipe[2];
    ASSERT_EQ(::pipe(pipe), 0);
    const pid_t child = ::fork();
    if (child == 0) {
        std::string told;
        if (::setresuid(65534, 65534, 65534) == 0) {
            try {
                (void)claim(path);
            } catch (const std::exception& refused) {
                told = refused.what();
            }
        }
        (void)!::write(pipe[1], told.data(), told.size());
        ::_exit(0);
    }
    ::close(pipe[1]);
    char told[500] = "";
    EXPECT_GT(::read(pipe[0], told, sizeof told - 1), 0);
    ::waitpid(child, nullptr, 0);
    EXPECT_EQ(told, path + ": Permission denied; it belongs to root");
}

// What was left behind by a station that was killed.
TEST_F(TheControlSocketsPlace, GoesToOneOfThoseWhoAskInTheSameInstant) {
    for (int round = 0; round < 3; ++round) {
        other = lines::Descriptor();
        std::atomic<int> ready{0};
        std::vector<std::unique_ptr<Listener>> claimed(3);
        std::vector<std::jthread> stations;
        for (auto& mine : claimed) {
            stations.emplace_back([&] {
                for (++ready; ready < 3;) std::this_thread::yield();
                try {
                    mine = claim(path);
                } catch (const std::runtime_error&) {  // another was there first
                }
            });
        }
        stations.clear();
        EXPECT_EQ(std::ranges::count_if(claimed, [](const auto& mine) { return mine != nullptr; }), 1);
        const lines::Descriptor caller(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0));
        EXPECT_EQ(::connect(caller.get(), reinterpret_cast<sockaddr*>(&address), sizeof address), 0);
    }
}

}  // namespace
}  // namespace tripline::control
