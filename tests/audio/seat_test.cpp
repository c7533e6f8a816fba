// One engine leaves its place and another takes it while the sound goes on.
#include "daemon/audio/seat.h"

#include <gtest/gtest.h>

#include <array>
#include <atomic>
#include <thread>

namespace tripline::audio {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct Counter final : BlockHandler {
    void process(const station::Block& block) noexcept override {
        busy = true;
        ++blocks;
        for (float& sample : block.loudspeaker) sample = 1;
        busy = false;
    }
    void flag() noexcept override {}
    int blocks = 0;
    std::atomic<bool> busy{false};
};

struct AnEmptySeat : testing::Test {
    Pulse pulse;
    Seat seat{pulse};
    std::array<float, 8> loudspeaker{};
    void sound() { seat.process({.microphone = {}, .receiver = {}, .transmitter = {}, .loudspeaker = loudspeaker}); }
};

TEST_F(AnEmptySeat, AnswersWithSilenceAndWhoTakesItHearsTheNextBlock) {
    loudspeaker.fill(0.5F);
    sound();
    EXPECT_EQ(loudspeaker[3], 0);
    Counter first, second;
    seat.take(first);
    sound();
    EXPECT_EQ(loudspeaker[3], 1);
    EXPECT_TRUE(seat.leave(0ms));
    sound();
    EXPECT_EQ(loudspeaker[3], 0);
    seat.take(second);
    sound();
    EXPECT_EQ(first.blocks, 1);
    EXPECT_EQ(second.blocks, 1);
}

TEST_F(AnEmptySeat, IsNotLeftWhileACallbackIsAtWork) {
    struct Stuck final : BlockHandler {
        void process(const station::Block&) noexcept override {
            inside = true;
            while (!go_on) std::this_thread::yield();
        }
        void flag() noexcept override {}
        std::atomic<bool> inside{false}, go_on{false};
    } stuck;
    seat.take(stuck);
    std::thread callback([this] { sound(); });
    while (!stuck.inside) std::this_thread::yield();
    EXPECT_FALSE(seat.leave(20ms));
    stuck.go_on = true;
    callback.join();
    EXPECT_TRUE(seat.leave(0ms));
}

TEST_F(AnEmptySeat, GivesNoBlockToWhoHasLeftIt) {
    std::jthread callback([&](const std::stop_token& stop) {
        while (!stop.stop_requested()) sound();
    });
    long long heard = 0;
    constexpr int most = 1'000'000;   // a busy machine may not let the callback run in the first hundreds
    for (int i = 0; i < 300 || (heard == 0 && i < most); ++i) {
        Counter counter;   // gone when the loop ends: the sanitizers would see a late block
        seat.take(counter);
        std::this_thread::yield();
        ASSERT_TRUE(seat.leave(60s)) << "a callback that goes on is waited for, however busy the machine";
        EXPECT_FALSE(counter.busy);
        heard += counter.blocks;
    }
    EXPECT_GT(heard, 0);
}

}  // namespace
}  // namespace tripline::audio
