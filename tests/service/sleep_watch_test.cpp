#include "daemon/service/sleep_watch.h"

#include "tests/service/pretend_logind.h"

#include <gtest/gtest.h>

#include <optional>

namespace tripline::service {
namespace {

Duration now() { return std::chrono::steady_clock::now().time_since_epoch(); }

/// Turns it until it says so, at most ten seconds.
bool says(SleepWatch& watch, bool near) {
    for (int i = 0; i < 2000 && watch.near() != near; ++i) {
        watch.turn(now());
        ::poll(nullptr, 0, 5);
    }
    return watch.near() == near;
}

bool delays(SleepWatch& watch, const PretendLogind& logind, bool wanted) {
    for (int i = 0; i < 2000 && logind.waits() != wanted; ++i) {
        watch.turn(now());
        ::poll(nullptr, 0, 5);
    }
    return logind.waits() == wanted;
}

TEST(TheSleepOfTheMachine, IsDelayedUntilTheLinesAreAtRestAndSoIsTheNext) {
    PretendLogind logind;
    SleepWatch watch;
    for (int night = 0; night < 2; ++night) {
        ASSERT_TRUE(delays(watch, logind, true)) << night;
        EXPECT_FALSE(watch.near());
        logind.announce(true);
        ASSERT_TRUE(says(watch, true)) << night;
        EXPECT_TRUE(logind.waits());
        watch.let_sleep();
        EXPECT_TRUE(delays(watch, logind, false)) << night;
        logind.announce(false);
        ASSERT_TRUE(says(watch, false)) << night;
    }
}

TEST(TheSleepOfTheMachine, IsNotWatchedWhereThereIsNoBus) {
    ::setenv("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=/nowhere/bus", 1);
    SleepWatch watch;
    for (int i = 0; i < 3; ++i) watch.turn(now());
    EXPECT_FALSE(watch.near());
    ::unsetenv("DBUS_SYSTEM_BUS_ADDRESS");
}

TEST(TheSleepOfTheMachine, IsOverForAStationThatHasLostTheBus) {
    std::optional<PretendLogind> logind(std::in_place);
    SleepWatch watch;
    ASSERT_TRUE(delays(watch, *logind, true));
    logind->announce(true);
    ASSERT_TRUE(says(watch, true));
    logind.reset();
    EXPECT_TRUE(says(watch, false)) << "it would never hear that the machine has woken";
}

TEST(TheSleepOfTheMachine, IsWatchedAgainOnceThereIsABusAgain) {
    std::optional<PretendLogind> logind(std::in_place);
    SleepWatch watch;
    ASSERT_TRUE(delays(watch, *logind, true));
    logind.reset();
    for (int i = 0; i < 20; ++i) watch.turn(now());
    logind.emplace();
    ASSERT_TRUE(delays(watch, *logind, true));
    logind->announce(true);
    EXPECT_TRUE(says(watch, true));
}

TEST(TheSleepOfTheMachine, IsKnownToAStationThatComesToTheBusInTheMidstOfIt) {
    PretendLogind logind;
    logind.be_about_to_sleep();
    SleepWatch watch;
    EXPECT_TRUE(says(watch, true));
    logind.announce(false);
    EXPECT_TRUE(says(watch, false));
}

TEST(TheSleepOfTheMachine, IsOverWhenLogindDiesAndIsDelayedAgainWhenItIsBack) {
    PretendLogind logind;
    SleepWatch watch;
    ASSERT_TRUE(delays(watch, logind, true));
    logind.announce(true);
    ASSERT_TRUE(says(watch, true));
    logind.die();
    EXPECT_TRUE(says(watch, false)) << "the station would stay at rest until it is started again";
    logind.come_back();
    ASSERT_TRUE(delays(watch, logind, true));
    logind.announce(true);
    EXPECT_TRUE(says(watch, true));
}

TEST(TheSleepOfTheMachine, IsDelayedOnceHoweverOftenItAndTheWakingAreAnnounced) {
    PretendLogind logind;
    SleepWatch watch;
    ASSERT_TRUE(delays(watch, logind, true));
    for (const bool sleeps : {false, false, true, true}) {
        logind.announce(sleeps);
        for (int i = 0; i < 20; ++i) {
            watch.turn(now());
            ::poll(nullptr, 0, 5);
        }
        EXPECT_EQ(watch.near(), sleeps);
    }
    watch.let_sleep();
    EXPECT_TRUE(delays(watch, logind, false)) << "a delay is held that nobody knows of";
}

bool is_unanswered(SleepWatch& watch, bool wanted) {
    for (int i = 0; i < 2000 && watch.unanswered() != wanted; ++i) {
        watch.turn(now());
        ::poll(nullptr, 0, 5);
    }
    return watch.unanswered() == wanted;
}

constexpr std::chrono::milliseconds patience{200};

TEST(TheSleepOfTheMachine, IsNearForAsLongAsALogindThatAnswersSaysSo) {
    PretendLogind logind;
    SleepWatch watch(patience);
    ASSERT_TRUE(delays(watch, logind, true));
    logind.be_about_to_sleep();
    logind.announce(true);
    ASSERT_TRUE(says(watch, true));
    for (int i = 0; i < 200; ++i) {
        watch.turn(now());
        EXPECT_FALSE(watch.unanswered());
        ::poll(nullptr, 0, 5);
    }
    watch.disregard_unanswered();
    EXPECT_TRUE(watch.near()) << "it was answered";
    logind.be_about_to_sleep(false);
    EXPECT_TRUE(says(watch, false)) << "the waking was not told, and it is asked";
}

TEST(TheSleepOfTheMachine, IsInDoubtWhereLogindHangsUntilItAnswersOrSomebodyDisregardsIt) {
    for (const bool answers : {true, false}) {
        PretendLogind logind;
        SleepWatch watch(patience);
        ASSERT_TRUE(delays(watch, logind, true));
        logind.announce(true);
        ASSERT_TRUE(says(watch, true));
        watch.let_sleep();
        logind.hang(true);
        ASSERT_TRUE(is_unanswered(watch, true));
        EXPECT_TRUE(watch.near()) << "it is safe to stay at rest";
        if (!answers) watch.disregard_unanswered();
        logind.hang(!answers);
        EXPECT_TRUE(says(watch, false));
        EXPECT_FALSE(watch.unanswered());
        logind.hang(false);
        if (!answers) EXPECT_TRUE(delays(watch, logind, true)) << "it waits for the station again once it answers";
    }
}

TEST(TheSleepOfTheMachine, IsDelayedByALogindThatAnswersLate) {
    PretendLogind logind;
    logind.hang(true);
    SleepWatch watch(patience);
    for (int i = 0; i < 80; ++i) {
        watch.turn(now());
        ::poll(nullptr, 0, 5);
    }
    EXPECT_FALSE(logind.waits());
    EXPECT_FALSE(watch.unanswered()) << "no sleep was announced";
    logind.hang(false);
    EXPECT_TRUE(delays(watch, logind, true));
}

TEST(TheSleepOfTheMachine, ThatMayNotBeDelayedIsAnnouncedAllTheSameAndToldOnce) {
    PretendLogind logind;
    logind.refuse();
    SleepWatch watch(patience);
    std::string told;
    for (int i = 0; i < 2000 && told.empty(); ++i) {
        watch.turn(now());
        told = watch.take_refusal();
        ::poll(nullptr, 0, 5);
    }
    EXPECT_EQ(told, "Permission denied");
    EXPECT_EQ(watch.take_refusal(), "");
    logind.announce(true);
    EXPECT_TRUE(says(watch, true));
}

// A bus that takes whoever comes and never says a word.
TEST(TheSleepOfTheMachine, DoesNotHoldTheStationUpWhereTheBusHangs) {
    const TemporaryFolder folder;
    const lines::Descriptor mute(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0));
    sockaddr_un address{};
    address.sun_family = AF_UNIX;
    const std::string path = folder / "bus";
    path.copy(address.sun_path, path.size());
    ASSERT_EQ(::bind(mute.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address), 0);
    ASSERT_EQ(::listen(mute.get(), 0), 0);
    ::setenv("DBUS_SYSTEM_BUS_ADDRESS", ("unix:path=" + path).c_str(), 1);
    const Duration began = now();
    {
        SleepWatch first;
        SleepWatch second;  // no place in its queue
        SleepWatch third;
        for (SleepWatch* watch : {&first, &second, &third}) {
            for (int i = 0; i < 100; ++i) watch->turn(now());
            EXPECT_FALSE(watch->near());
        }
    }
    ::unsetenv("DBUS_SYSTEM_BUS_ADDRESS");
    EXPECT_LT(now() - began, std::chrono::seconds{1});
}

}  // namespace
}  // namespace tripline::service
