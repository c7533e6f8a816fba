// The sound is closed though what it is recorded to stands still.
#include "daemon/service/audio_keeper.h"

#include <gtest/gtest.h>
#include <poll.h>

#include <array>
#include <atomic>

namespace tripline::service {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

Duration now() { return std::chrono::steady_clock::now().time_since_epoch(); }

/// Gives a block of silence when it starts.
class ShortSource final : public audio::Source {
public:
    void start(audio::BlockHandler& handler) override {
        const std::array<float, 480> silence{};
        handler.process({.microphone = silence, .receiver = silence});
    }
    void stop() noexcept override {}
    Hertz rate() const noexcept override { return Hertz{48000}; }
    bool ended() const noexcept override { return false; }
    std::string description() const override { return "silence"; }
};

struct TheSound : testing::Test {
    audio::Pulse pulse;
    audio::Doors doors;
    std::atomic<bool> stuck{false};
    std::atomic<int> told{0};
    AudioKeeper keeper{pulse, doors};

    /// How long the longest turn took until it was so.
    Duration until(AudioKeeper::Condition wanted) {
        Duration longest{0};
        for (int i = 0; i < 1000 && keeper.condition() != wanted; ++i, ::poll(nullptr, 0, 5)) {
            const Duration began = now();
            keeper.poll(began);
            longest = std::max(longest, now() - began);
            EXPECT_FALSE(keeper.hung(now()));
        }
        EXPECT_EQ(keeper.condition(), wanted);
        return longest;
    }
    void open(const std::string& record_to = {}) {
        keeper.tell([this](std::span<const audio::Frame>) {
            ++told;
            while (stuck.load()) ::poll(nullptr, 0, 5);
        });
        keeper.open([] { return std::make_unique<ShortSource>(); }, {}, record_to, now());
        until(AudioKeeper::Condition::open);
    }
};

TEST_F(TheSound, IsClosedWithoutAStandstillThoughWhatItIsRecordedToStandsStill) {
    stuck = true;
    open();
    for (int i = 0; i < 1000 && told == 0; ++i) ::poll(nullptr, 0, 5);
    const Duration began = now();
    keeper.close(began);
    EXPECT_LT(until(AudioKeeper::Condition::closed), 200ms) << "nothing could have stopped the station meanwhile";
    EXPECT_LT(now() - began, 2s);
    open("/nowhere/evening.wav");
    EXPECT_TRUE(keeper.recording_failed()) << "that disk would hold the next one up as well";
    stuck = false;
}

TEST_F(TheSound, IsClosedOnceAllOfItIsRecorded) {
    open();
    keeper.close(now());
    until(AudioKeeper::Condition::closed);
    EXPECT_EQ(told, 1);
    keeper.open([] { return std::make_unique<ShortSource>(); }, {}, "/nowhere/evening.wav", now());
    until(AudioKeeper::Condition::closed);
    EXPECT_NE(keeper.failure().find("nowhere"), std::string::npos) << keeper.failure();
}

}  // namespace
}  // namespace tripline::service
