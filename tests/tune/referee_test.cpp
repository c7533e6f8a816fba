// A mistake is told as soon as nothing that comes can make it good.
#include "daemon/tune/referee.h"

#include <gtest/gtest.h>

namespace tripline::tune {
namespace {

using replay::MistakeKind;
using replay::Spell;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

const replay::Spans speech{{10s, 12s}, {12500ms, 14s}, {20s, 22s}};   // two overs at a hang time of a second
const replay::Timing timing{.hold = 1s, .relay = 40ms, .transmitter = 20ms, .look_ahead = 60ms};

Spell spell(Duration decided, Duration released) {
    return {.decided = decided, .keyed = decided + 20ms, .released = released, .reason = station::Reason::silence};
}
Spell going_on(Duration decided) { return {.decided = decided, .keyed = decided + 20ms, .released = decided + 20ms}; }

std::optional<MistakeKind> at(Duration now, const std::vector<Spell>& spells) {
    Referee::Seen seen;
    return Referee(speech, timing).look(spells, now, seen);
}

TEST(TheReferee, TellsAFalseKeyAsSoonAsItCloses) {
    EXPECT_EQ(at(5s, {going_on(4900ms)}), MistakeKind::false_key);
    EXPECT_EQ(at(10s, {going_on(9900ms)}), std::nullopt);   // a breath before the word
}

TEST(TheReferee, WaitsWithAnOverUntilItCannotBeCaughtAnyMore) {
    EXPECT_EQ(at(14s, {}), std::nullopt);
    EXPECT_EQ(at(16100ms, {}), MistakeKind::missed);
    EXPECT_EQ(at(16100ms, {spell(10010ms, 15s)}), std::nullopt);
}

TEST(TheReferee, TellsAnOverThatLostTooMuch) {
    EXPECT_EQ(at(16100ms, {spell(10010ms, 11s), spell(13500ms, 15s)}), MistakeKind::torn);
}

TEST(TheReferee, TellsAKeyThatIsHeldOnWhileItStillIs) {
    EXPECT_EQ(at(15900ms, {going_on(10010ms)}), std::nullopt);
    EXPECT_EQ(at(16100ms, {going_on(10010ms)}), MistakeKind::held_on);
    EXPECT_EQ(at(16100ms, {spell(10010ms, 15990ms)}), std::nullopt);
}

TEST(TheReferee, DoesNotBlameAnOverForTheNext) {
    const std::vector<Spell> first{spell(10010ms, 15s)};
    EXPECT_EQ(at(23s, first), std::nullopt);
    EXPECT_EQ(at(24100ms, first), MistakeKind::missed);
}

TEST(TheReferee, LooksAtEachSpellAndOverOnce) {
    const Referee referee(speech, timing);
    Referee::Seen seen;
    const std::vector<Spell> spells{spell(10010ms, 15s)};
    EXPECT_EQ(referee.look(spells, 17s, seen), std::nullopt);
    EXPECT_EQ(seen.spells, 1U);
    EXPECT_EQ(seen.overs, 1U);
}

}  // namespace
}  // namespace tripline::tune
