// The rows of the fault table that need sound: the whole daemon, live.
#include "dsp/detector_settings.h"
#include "tests/faults/fault_table.h"
#include "tests/live/shack.h"
#include "tests/live/speech.h"

#include <gtest/gtest.h>
#include <poll.h>

#include <csignal>
#include <fstream>
#include <functional>
#include <random>
#include <thread>

namespace tripline::live {
namespace {

using faults::any_fault;
using faults::process_death;

class TheLiveStation : public testing::Test {
protected:
    static void SetUpTestSuite() {
        folder = new faults::Folder;
        write_speech(folder->path / "speech.wav");
        shack = new Shack(folder->path / "speech.wav");
    }
    static void TearDownTestSuite() {
        delete shack;
        delete folder;
    }

    using Step = std::function<void(Shack&)>;

    /// On the air, `fault` at a random moment, the time to the open key; then `mend`. A fault that
    /// only lasting makes one counts from its `limit` on.
    static void inject(const std::string& row, Duration bound, const Step& fault, const Step& mend,
                       Duration limit = Duration{0}) {
        static std::mt19937 random(20261125);
        constexpr Duration released_by_itself = 50ms;  // half of what the daemon calls a stall
        while (faults::table().wants(row)) {
            shack->get_on_air();
            const Instant on_air = faults::now();
            ::poll(nullptr, 0, 20 + static_cast<int>(random() % 70));
            const Instant at = faults::now();
            fault(*shack);
            const auto opened = shack->lines.wait("ptt", false, at, limit + 3s);
            ASSERT_TRUE(opened || faults::table().excuse(row, on_air, at, released_by_itself))
                << row << ": the key stayed closed\n" << shack->log();
            const bool late = opened && *opened - at > bound + limit;
            const bool spoilt = late && shack->missed_a_callback(at, *opened) && faults::table().spoil(row);
            if (opened && !spoilt) faults::table().add(row, bound, at + limit, *opened);
            mend(*shack);
        }
    }
    static void restart(Shack& s) { s.start_daemon(); }
    static void nothing(Shack&) {}

    static inline faults::Folder* folder = nullptr;
    static inline Shack* shack = nullptr;
};

TEST_F(TheLiveStation, OpensTheKeyWhenTheDaemonIsKilled) {
    shack->start_daemon();
    inject("live daemon kill -9", process_death, [](Shack& s) { s.daemon->signal(SIGKILL); }, restart);
}

TEST_F(TheLiveStation, OpensTheKeyWhenTheDaemonCrashes) {
    shack->start_daemon();
    inject("live daemon SIGSEGV", process_death, [](Shack& s) { s.daemon->signal(SIGSEGV); }, restart);
}

TEST_F(TheLiveStation, OpensTheKeyWhenTheDaemonIsStopped) {
    shack->start_daemon();
    inject("live daemon SIGSTOP, its callback with it", any_fault, [](Shack& s) { s.daemon->signal(SIGSTOP); }, restart);
}

TEST_F(TheLiveStation, OpensTheKeyAndComesBackWhenTheGuardIsKilled) {
    shack->start_daemon();
    inject("live guard kill -9", process_death, [](Shack& s) { ::kill(s.guard(), SIGKILL); }, nothing);
}

TEST_F(TheLiveStation, OpensTheKeyAndComesBackWhenTheGuardIsStopped) {
    shack->start_daemon();
    inject("live guard SIGSTOP", any_fault, [](Shack& s) { ::kill(s.guard(), SIGSTOP); }, nothing);
}

TEST_F(TheLiveStation, OpensTheKeyAndComesBackWhenTheCallbackStalls) {
    shack->start_daemon();
    inject("audio callback stalls (server SIGSTOP)", any_fault, [](Shack& s) { s.server->signal(SIGSTOP); },
           [](Shack& s) { s.server->signal(SIGCONT); });
}

TEST_F(TheLiveStation, OpensTheKeyWhenTheSoundServerIsKilled) {
    shack->start_daemon();
    inject("audio server kill -9", any_fault, [](Shack& s) { s.server->signal(SIGKILL); },
           [](Shack& s) {
               s.card.reset();
               s.start_server();
               s.start_card();
               s.start_daemon();
           });
}

TEST_F(TheLiveStation, ComesBackByItselfWhenTheSoundServerDoes) {
    shack->start_daemon();
    shack->get_on_air();
    const int ready = shack->count_logged("station ready");
    shack->server->signal(SIGKILL);
    ASSERT_TRUE(shack->logged("no sound: "));
    shack->card.reset();
    shack->start_server();
    shack->start_card();
    ASSERT_TRUE(shack->logged("station ready", ready + 1)) << shack->log();
    shack->get_on_air();
}

TEST_F(TheLiveStation, OpensTheKeyWhenTheDeviceVanishes) {
    shack->start_daemon();
    inject("device vanishes", any_fault, [](Shack& s) { s.card->signal(SIGKILL); },
           [](Shack& s) {
               s.start_card();
               s.start_daemon();
           });
}

TEST_F(TheLiveStation, ComesBackByItselfWhenTheDeviceDoes) {
    shack->start_daemon();
    shack->get_on_air();
    const int ready = shack->count_logged("station ready");
    shack->card->signal(SIGKILL);
    ASSERT_TRUE(shack->logged("no sound: ")) << shack->log();
    shack->start_card();
    ASSERT_TRUE(shack->logged("station ready", ready + 1)) << shack->log();
    shack->get_on_air();
}

TEST_F(TheLiveStation, WaitsForADeviceThatIsAbsentAtTheStart) {
    shack->card.reset();
    const int absent = shack->count_logged("no sound: ");
    const int ready = shack->count_logged("station ready");
    std::thread late([] {
        ::poll(nullptr, 0, 4000);
        shack->start_card();
    });
    shack->start_daemon();
    late.join();
    EXPECT_EQ(shack->count_logged("no sound: "), absent + 1) << "said once\n" << shack->log();
    EXPECT_EQ(shack->count_logged("station ready"), ready + 1);
}

TEST_F(TheLiveStation, OpensTheKeyWhenTheInputIsNotANumber) {
    shack->start_daemon();
    inject("input all NaN", any_fault, [](Shack& s) { s.tell_card("nan"); }, nothing);
}

TEST_F(TheLiveStation, OpensTheKeyWhenTheInputIsStuck) {
    shack->start_daemon();
    inject("input stuck at a constant", any_fault, [](Shack& s) { s.tell_card("constant"); }, nothing);
}

void end_steady_sound(Shack& s) {
    s.tell_card("quiet");
    ::poll(nullptr, 0, 3500);  // until the lock-out is lifted
}

TEST_F(TheLiveStation, OpensTheKeyForASteadyTone) {
    shack->start_daemon();
    inject("steady tone", any_fault, [](Shack& s) { s.tell_card("tone"); }, end_steady_sound);
    EXPECT_GT(shack->count_logged("transmission ended: steady_tone"), 0) << shack->log();
}

TEST_F(TheLiveStation, OpensTheKeyForAMainsHum) {
    shack->start_daemon();
    inject("mains hum", any_fault, [](Shack& s) { s.tell_card("hum"); }, end_steady_sound);
    EXPECT_GT(shack->count_logged("transmission ended: steady_tone"), 0) << shack->log();
}

TEST_F(TheLiveStation, StopsTheWaveWhenTheCallbackStalls) {
    constexpr Duration period = 100ms, noticed_after = 150ms;
    shack->start_daemon();
    const faults::LineLog wave(shack->folder.path / "wave");
    for (int i = 0; i < 5; ++i) {
        ASSERT_TRUE(wave.wait("alive", true, faults::now()));
        const Instant at = faults::now();
        shack->server->signal(SIGSTOP);
        ::poll(nullptr, 0, 1000);
        shack->server->signal(SIGCONT);
        for (const auto& record : wave.records())
            EXPECT_FALSE(record.active && record.at > at + noticed_after + period && record.at < at + 1s);
        ASSERT_TRUE(wave.wait("alive", true, at + 1s, 10s)) << "it goes on when the station is ready again";
    }
}

TEST_F(TheLiveStation, OpensTheKeyForNewSettings) {
    shack->start_daemon();
    inject("config reload in mid-over", any_fault, [](Shack& s) { s.daemon->signal(SIGHUP); },
           [](Shack& s) { s.start_daemon(); });
}

TEST_F(TheLiveStation, KeepsTheKeyWhenNewSettingsAreWrong) {
    shack->start_daemon();
    std::ofstream(shack->config_file, std::ios::app) << "[nonsense]\nrubbish = 1\n";
    shack->get_on_air();
    const Instant at = faults::now();
    shack->daemon->signal(SIGHUP);
    EXPECT_TRUE(shack->logged("settings left as they were"));
    EXPECT_FALSE(shack->lines.wait("ptt", false, at, 1s));
    shack->write_config();
}

TEST_F(TheLiveStation, OpensTheKeyInAStormOfHangUpsAndComesBack) {
    shack->start_daemon();
    inject("SIGHUP storm", any_fault,
           [](Shack& s) { for (int i = 0; i < 200; ++i) s.daemon->signal(SIGHUP); },
           [](Shack& s) { s.start_daemon(); });
}

TEST_F(TheLiveStation, OpensTheKeyInAStormOfEndingsAndEndsInOrder) {
    for (const int number : {SIGTERM, SIGINT}) {
        shack->start_daemon();
        inject(number == SIGTERM ? "SIGTERM storm" : "SIGINT storm", any_fault,
               [number](Shack& s) { for (int i = 0; i < 200; ++i) s.daemon->signal(number); },
               [](Shack& s) {
                   EXPECT_EQ(s.daemon->wait(6s), 0);
                   s.daemon.reset();
                   s.start_daemon();
               });
    }
}

TEST_F(TheLiveStation, KeysAndOpensWithEveryDiskFull) {
    const auto start = [](Shack& s) {
        const int before = static_cast<int>(s.lines.records().size());
        s.start_daemon({"--events", "/dev/full"}, "/dev/full");
        for (int i = 0; i < 500 && static_cast<int>(s.lines.records().size()) < before + 3; ++i) ::poll(nullptr, 0, 10);
    };
    start(*shack);
    inject("daemon kill -9 with the disk full while logging", process_death,
           [](Shack& s) { s.daemon->signal(SIGKILL); }, start);
    shack->daemon.reset();
}

}  // namespace
}  // namespace tripline::live
