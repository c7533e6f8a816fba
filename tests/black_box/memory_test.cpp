// What is kept, and what is let go.
#include "daemon/black_box/memory.h"
#include "daemon/black_box/sound_file.h"

#include <gtest/gtest.h>

namespace tripline::black_box {
namespace {

using std::chrono_literals::operator""s;

constexpr Hertz rate{8000};
constexpr Frames hop{4};

std::vector<Frame> counted(int from, int count) {
    std::vector<Frame> frames;
    for (int i = from; i < from + count; ++i) frames.push_back({static_cast<float>(i), static_cast<float>(-i)});
    return frames;
}

station::Event event_at(std::int64_t frame, station::Mode mode) {
    station::Event event;
    event.at = {frame};
    event.mode = mode;
    return event;
}

TEST(TheMemory, KeepsAllUntilItIsFull) {
    Memory memory(rate, hop, 3s);
    memory.add(counted(0, 23999));
    EXPECT_TRUE(memory.complete());
    EXPECT_EQ(length_of(memory.past()).count, 23999);
}

TEST(TheMemory, KeepsTheLastWholeSecondsInOrder) {
    Memory memory(rate, hop, 3s);
    for (int from = 0; from < 100000; from += 333) memory.add(counted(from, 333));
    EXPECT_FALSE(memory.complete());
    EXPECT_EQ(memory.begin().count % hop.count, 0);
    EXPECT_GE((memory.end() - memory.begin()).count, 16000);
    EXPECT_LE((memory.end() - memory.begin()).count, 24000);
    auto expected = static_cast<float>(memory.begin().count);
    for (const auto& chunk : memory.past()) {
        for (const Frame& frame : *chunk) {
            ASSERT_EQ(frame.microphone, expected);
            ASSERT_EQ(frame.receiver, -expected);
            ++expected;
        }
    }
    EXPECT_EQ(expected, static_cast<float>(memory.end().count));
}

TEST(TheMemory, GivesAPastThatDoesNotChangeAnyMore) {
    Memory memory(rate, hop, 1s);
    memory.add(counted(0, 100));
    const Past past = memory.past();
    memory.add(counted(100, 50000));
    ASSERT_EQ(past.size(), 1U);
    EXPECT_EQ(past.front()->size(), 100U);
}

TEST(TheMemory, LetsEventsGoWithTheirSoundAndRemembersTheMode) {
    Memory memory(rate, hop, 1s);
    memory.add(event_at(40, station::Mode::safe));
    memory.add(event_at(8004, station::Mode::armed));
    memory.add(counted(0, 16000));
    ASSERT_EQ(memory.begin().count, 8000);
    EXPECT_EQ(memory.mode_at_begin(), station::Mode::safe);
    const auto events = memory.events();
    ASSERT_EQ(events.size(), 1U);
    EXPECT_EQ(events[0].at.count, 4);
}

}  // namespace
}  // namespace tripline::black_box
