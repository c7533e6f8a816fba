#include "dsp/room_sounds.h"

#include <gtest/gtest.h>

namespace tripline::dsp {
namespace {

constexpr double hop = 0.5e-3;
constexpr Power floor_power = 1e-6F;
constexpr Power clack = 1e-4F;

/// A room with a station: what a sound has to outdo.
class ARoom : public testing::Test {
protected:
    RoomSounds room{{}, hop};

    Power hear(double seconds, Power power, bool keyed = false) {
        Power out = 0;
        for (int i = 0; i < static_cast<int>(seconds / hop); ++i) out = room(power, floor_power, 1, keyed);
        return out;
    }
    /// Back to receive, with a sound 20 ms later; the threshold then.
    Power unkey(Power sound) {
        room.relays_moved();
        hear(0.02, floor_power);
        const Power out = hear(0.02, sound);
        hear(0.5, floor_power);
        return out;
    }
    /// What stands against an operator who speaks up a second later.
    Power later() { return hear(1, floor_power); }
    void know_station() {
        hear(30, floor_power);
        for (int n = 0; n < 3; ++n) {
            over();
            unkey(clack);
        }
    }
    void over() { hear(1, 1e-2F, true); }
};

TEST_F(ARoom, HoldsSoundsOfItsStationAgainstTheOperatorOnlyUntilTheyHaveRecurred) {
    hear(30, floor_power);
    const Power quiet = later();
    unkey(clack);
    EXPECT_GT(later(), clack);   // it may have been the room
    for (int n = 0; n < 2; ++n) {
        over();
        unkey(clack * (n == 0 ? 0.7F : 1.3F));
    }
    EXPECT_LT(later(), 2 * quiet);
    EXPECT_FALSE(room.wary());
    over();
    EXPECT_GT(unkey(clack), clack);   // where the relays sound they are to be outdone
    EXPECT_LT(later(), 2 * quiet);
}

TEST_F(ARoom, KeepsInMindWhatOutdoesItsStation) {
    know_station();
    over();
    unkey(10 * clack);
    EXPECT_GT(later(), 10 * clack);
}

TEST_F(ARoom, KeepsInMindWhatSoundsApartFromItsStation) {
    know_station();
    hear(0.05, clack);
    EXPECT_GT(later(), clack);
}

TEST_F(ARoom, DoesNotTakeForItsStationWhatSoundedAfterOneMoveAlone) {
    hear(30, floor_power);
    for (int n = 0; n < 4; ++n) {
        over();
        unkey(n % 2 == 0 ? clack : floor_power);
    }
    EXPECT_GT(later(), clack / 2);
}

TEST_F(ARoom, DoesNotTakeTheOperatorForItsStation) {
    hear(30, floor_power);
    for (int n = 0; n < 5; ++n) {   // keyed again before the relays have come to rest
        room.relays_moved();
        hear(0.05, clack);
        over();
    }
    hear(30, floor_power);
    over();
    EXPECT_LT(unkey(floor_power), clack / 10);
}

TEST_F(ARoom, HoldsAgainstTheOperatorWhatGoesOnWhenItsStationShouldHaveComeToRest) {
    hear(30, floor_power);
    for (int n = 0; n < 4; ++n) {
        over();
        room.relays_moved();
        hear(0.02, floor_power);
        hear(0.08, clack);
        hear(0.03, clack / 8);
        hear(0.5, floor_power);
    }
    EXPECT_GT(later(), clack);
}

// The next three are what the manual says in how-it-listens.
TEST_F(ARoom, LearnsNothingFromMovesOnTheWayToTransmitAsTheOperatorSpeaksThen) {
    hear(30, floor_power);
    const Power quiet = later();
    for (int n = 0; n < 3; ++n) {
        room.relays_moved();
        hear(0.2, clack, true);
        hear(0.5, floor_power);
    }
    EXPECT_FALSE(room.outdoes_relays(1));
    EXPECT_LT(later(), 2 * quiet);
}

TEST_F(ARoom, RaisesTheThresholdForATenthOfASecondAfterAReturnOnceItKnowsItsStation) {
    know_station();
    const Power quiet = later();
    over();
    room.relays_moved();
    hear(0.02, floor_power);
    EXPECT_GT(hear(0.02, clack), 3.9F * clack);   // 6 dB
    EXPECT_GT(hear(0.055, floor_power), 3.9F * clack);
    EXPECT_LT(hear(0.01, floor_power), 2 * quiet);
}

TEST_F(ARoom, HoldsTheThresholdUpForTheBetterPartOfAMinuteWhileItDoesNotKnowItsStation) {
    hear(30, floor_power);
    unkey(clack);
    EXPECT_GT(later(), 3 * clack);
    EXPECT_GT(hear(18, floor_power), clack);   // 0.3 dB a second
}

TEST_F(ARoom, KnowsThatItsStationIsSilent) {
    hear(30, floor_power);
    for (int n = 0; n < 3; ++n) {
        over();
        EXPECT_FALSE(room.outdoes_relays(clack));
        unkey(floor_power);
    }
    EXPECT_TRUE(room.outdoes_relays(clack));
    EXPECT_FALSE(room.outdoes_relays(2 * floor_power));
}

}  // namespace
}  // namespace tripline::dsp
