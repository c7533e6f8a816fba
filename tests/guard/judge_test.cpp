#include "daemon/guard/judge.h"

#include "tests/guard/orders.h"

#include <gtest/gtest.h>

#include <random>

namespace tripline::guard {
namespace {

struct TheJudge : testing::Test {
    static Plan plan() {
        Plan plan;
        for (auto& line : plan.wiring) line = {.kind = lines::Kind::file, .device = "log"};
        return plan;
    }
    Judge judge{plan()};
    Instant now = 5s;
    std::uint32_t sequence = 0;

    bool give(station::Lines lines) { return judge.take(bytes(order(++sequence, lines)), now); }
    void key() {
        ASSERT_TRUE(give(at_rest));
        ASSERT_TRUE(give(keyed));
        ASSERT_EQ(judge.wanted(), keyed);
    }
    void expect_released(Condition why) {
        EXPECT_EQ(judge.condition(), why);
        EXPECT_EQ(judge.wanted(), at_rest);
    }
};

TEST_F(TheJudge, StartsReleased) { expect_released(Condition::silent); }

TEST_F(TheJudge, KeysOnlyAfterAnOrderToRest) {
    EXPECT_FALSE(give(keyed));
    expect_released(Condition::silent);
    EXPECT_TRUE(give(switching));
    EXPECT_TRUE(give(keyed));
    EXPECT_EQ(judge.wanted(), keyed);
}

TEST_F(TheJudge, ObeysAnOrderOfADaemonInTroubleAndDoesNotPayForIt) {
    key();
    Order rest = order(++sequence, at_rest);
    rest.alive = 0;
    seal(rest);
    EXPECT_FALSE(judge.take(bytes(rest), now));
    EXPECT_EQ(judge.condition(), Condition::good);
    EXPECT_EQ(judge.wanted(), at_rest);
    EXPECT_TRUE(give(at_rest));
}

TEST_F(TheJudge, TakesEveryFieldForZeroOrOneAlone) {
    for (std::uint8_t Order::*field : {&Order::ptt, &Order::mute, &Order::antenna, &Order::alive}) {
        Judge fresh{plan()};
        Order wrong = order(1, at_rest);
        wrong.*field = 2;
        seal(wrong);
        EXPECT_FALSE(fresh.take(bytes(wrong), now));
        EXPECT_EQ(fresh.condition(), Condition::malformed);
    }
}

TEST_F(TheJudge, ReleasesWhenOrdersStopFor250Milliseconds) {
    key();
    EXPECT_EQ(judge.due(), now + 250ms);
    judge.pass(now + 249ms);
    EXPECT_EQ(judge.wanted(), keyed);
    judge.pass(now + 250ms);
    expect_released(Condition::silent);
}

TEST_F(TheJudge, DoesNotTakeALateOrderForATimelyOne) {
    key();
    now += 251ms;
    EXPECT_FALSE(give(keyed));
    expect_released(Condition::silent);
}

TEST_F(TheJudge, EndsTheLongestTransmissionByItself) {
    key();
    for (const Instant end = now + 181s; now < end; now += 25ms) {
        ASSERT_EQ(judge.wanted(), keyed);
        give(keyed);
    }
    judge.pass(now);
    expect_released(Condition::too_long);
    EXPECT_FALSE(give(keyed));
    EXPECT_TRUE(give(at_rest));
    EXPECT_TRUE(give(keyed));
}

TEST_F(TheJudge, RefusesEveryTornOrder) {
    for (std::size_t size = 0; size < sizeof(Order); ++size) {
        judge = Judge(plan());
        key();
        const Order next = order(sequence + 1, keyed);
        EXPECT_FALSE(judge.take(bytes(next).first(size), now)) << size << " bytes";
        expect_released(Condition::malformed);
    }
}

TEST_F(TheJudge, KeysNothingForTwoSecondsAfterAnOrderThatIsNotSound) {
    key();
    ASSERT_FALSE(judge.take(bytes(order(sequence, keyed)).first(9), now));
    for (const Instant end = now + 2s; now < end; now += 25ms) {
        EXPECT_FALSE(give(at_rest));
        EXPECT_FALSE(give(keyed));
        expect_released(Condition::malformed);
    }
    EXPECT_TRUE(give(at_rest));
    EXPECT_TRUE(give(keyed));
    EXPECT_EQ(judge.wanted(), keyed);
}

TEST_F(TheJudge, RefusesAnOrderThatIsTooLong) {
    key();
    struct { Order order; std::byte more{}; } longer{order(sequence + 1, keyed), {}};
    EXPECT_FALSE(judge.take(bytes(longer).first(sizeof(Order) + 1), now));
    expect_released(Condition::malformed);
}

TEST_F(TheJudge, RefusesEveryFlippedBit) {
    for (std::size_t bit = 0; bit < 8 * sizeof(Order); ++bit) {
        judge = Judge(plan());
        key();
        Order next = order(sequence + 1, keyed);
        auto* raw = reinterpret_cast<unsigned char*>(&next);
        raw[bit / 8] = static_cast<unsigned char>(raw[bit / 8] ^ (1U << (bit % 8)));
        EXPECT_FALSE(judge.take(bytes(next), now)) << "bit " << bit;
        expect_released(Condition::malformed);
    }
}

TEST_F(TheJudge, RefusesAnOrderRepeatedSkippedOrFromThePast) {
    for (const std::uint32_t step : {0U, 2U, 0xffffffffU}) {
        judge = Judge(plan());
        key();
        EXPECT_FALSE(judge.take(bytes(order(sequence + step, keyed)), now)) << "step " << step;
        expect_released(Condition::malformed);
    }
}

TEST_F(TheJudge, FollowsTheSequenceRoundItsEnd) {
    sequence = 0xfffffffeU;
    EXPECT_TRUE(give(at_rest));
    EXPECT_TRUE(give(at_rest));
    EXPECT_EQ(sequence, 0U);
}

TEST_F(TheJudge, RefusesTheKeyWithoutTheAntennaAndEitherWithoutTheMuteThatIsWired) {
    for (const station::Lines lines :
         {station::Lines{true, false, true}, {true, true, false}, {false, false, true}}) {
        judge = Judge(plan());
        key();
        EXPECT_FALSE(give(lines));
        expect_released(Condition::contradictory);
    }
}

TEST_F(TheJudge, KeysWithoutAnAntennaOrMuteLineWhenNoneIsWired) {
    Plan bare;
    bare.wiring[0] = {.kind = lines::Kind::file, .device = "log"};
    judge = Judge(bare);
    EXPECT_TRUE(give(at_rest));
    EXPECT_TRUE(give({.ptt = true}));
    EXPECT_TRUE(judge.wanted().ptt);
}

TEST_F(TheJudge, CallsAFloodAFlood) {
    key();
    while (judge.condition() == Condition::good && sequence < 1000) give(keyed);
    expect_released(Condition::flood);
    EXPECT_EQ(sequence, static_cast<std::uint32_t>(Judge::flood_limit + 1));
    give(at_rest);
    EXPECT_EQ(judge.condition(), Condition::flood);
    now += Judge::distrust;
    // Orders of a flood are not looked at: the sequence stands where it was.
    sequence = judge.sequence();
    EXPECT_TRUE(give(at_rest));
    EXPECT_EQ(judge.condition(), Condition::good);
}

TEST_F(TheJudge, TakesAHundredOrdersIn100MillisecondsForNoFlood) {
    for (int i = 0; i < Judge::flood_limit; ++i) ASSERT_TRUE(give(at_rest));
}

TEST_F(TheJudge, LetsNothingLiftAFailedLine) {
    key();
    judge.fail(Condition::line_failed);
    EXPECT_FALSE(give(at_rest));
    judge.fail(Condition::stopped);
    expect_released(Condition::line_failed);
    EXPECT_TRUE(judge.ended());
}

TEST_F(TheJudge, TellsALineThatFailsWhileItStops) {
    judge.fail(Condition::stopped);
    judge.fail(Condition::line_failed);
    expect_released(Condition::line_failed);
}

// Whatever comes, a keyed station had sound orders within the silence limit, and the key
// never goes without mute and antenna.
TEST_F(TheJudge, KeysOnNothingButSoundOrdersWhateverComes) {
    const auto seed = std::random_device{}();
    RecordProperty("seed", static_cast<int>(seed));
    SCOPED_TRACE("seed " + std::to_string(seed));
    std::mt19937 random(seed);
    Instant heard = -1000s;
    for (int i = 0; i < 200000; ++i) {
        now += std::chrono::milliseconds(random() % 40) * (random() % 20 == 0 ? 10 : 1);
        Order next = order(judge.sequence() + 1, random() % 3 ? keyed : at_rest);
        const bool spoil = random() % 16 == 0;
        if (spoil) reinterpret_cast<unsigned char*>(&next)[random() % 16] ^= 0x10;
        const std::size_t size = random() % 32 == 0 ? random() % 17 : 16;
        const bool carried_out = judge.take(bytes(next).first(size), now);
        ASSERT_FALSE(carried_out && (spoil || size != 16));
        if (carried_out) heard = now;
        judge.pass(now);
        const station::Lines lines = judge.wanted();
        if (lines.ptt) {
            ASSERT_LT(now - heard, 250ms);
            ASSERT_TRUE(lines.mute && lines.antenna);
        }
    }
}

}  // namespace
}  // namespace tripline::guard
