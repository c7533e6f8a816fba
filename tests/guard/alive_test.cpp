#include "daemon/guard/alive.h"

#include <gtest/gtest.h>

namespace tripline::guard {
namespace {

int edges(Alive& alive, Instant from, Instant to, Duration order_every, bool good = true) {
    int count = 0;
    bool level = alive.next(good, from);
    for (Instant now = from; now < to; now += 1ms) {
        if (order_every > 0ms && (now - from) % order_every == 0ms) alive.paid();
        const bool next = alive.next(good, now);
        count += next != level;
        level = next;
    }
    return count;
}

TEST(TheAliveLine, IsASquareWaveOfItsPeriodWhileOrdersCome) {
    Alive alive(100ms);
    EXPECT_NEAR(edges(alive, 1s, 11s, heartbeat), 200, 2);
}

TEST(TheAliveLine, StopsWithinOnePeriodOfTheLastOrder) {
    Alive alive(100ms);
    edges(alive, 1s, 2s, heartbeat);
    edges(alive, 2s, 2100ms, 0ms);
    EXPECT_EQ(edges(alive, 2100ms, 5s, 0ms), 0);
}

TEST(TheAliveLine, RestsAtOnceWhenTheConditionIsNotGood) {
    Alive alive(100ms);
    alive.paid();
    ASSERT_TRUE(alive.next(true, 1s));
    EXPECT_FALSE(alive.next(false, 1001ms));
    EXPECT_EQ(edges(alive, 1001ms, 2s, heartbeat, false), 0);
}

TEST(TheAliveLine, NeedsAnOrderForEveryEdge) {
    Alive alive(100ms);
    EXPECT_EQ(edges(alive, 1s, 11s, 1000ms), 10);
}

}  // namespace
}  // namespace tripline::guard
