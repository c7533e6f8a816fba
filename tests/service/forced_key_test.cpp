// What became of a forced key.
#include "daemon/service/forced_key.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using Fate = ForcedKey::Fate;
using station::Mode;
using station::State;
using std::chrono_literals::operator""ms;

struct AForcedKey : testing::Test {
    audio::Pulse pulse;
    ForcedKey key{pulse};

    void blocks(State state, int count) {
        pulse.stand = audio::Stand{.state = state};
        pulse.blocks += static_cast<std::uint64_t>(count);
    }
};

TEST_F(AForcedKey, WaitsUntilABlockHasSurelySeenIt) {
    key.sent(0ms);
    EXPECT_EQ(key.look(Mode::keyed, 1ms), Fate::waits);
    blocks(State::locked_out, 1);  // begun before the command
    EXPECT_EQ(key.look(Mode::keyed, 2ms), Fate::waits);
}

TEST_F(AForcedKey, IsObeyedOnceTheStationIsOnItsWay) {
    for (const State state : {State::muting, State::antenna_to_transmit, State::settling, State::on_air, State::hold}) {
        key.sent(0ms);
        blocks(state, 2);
        EXPECT_EQ(key.look(Mode::keyed, 1ms), Fate::obeyed);
    }
}

TEST_F(AForcedKey, IsRefusedWhenTheStationStaysAtRest) {
    for (const State state : {State::rest, State::locked_out}) {
        key.sent(0ms);
        blocks(state, 2);
        EXPECT_EQ(key.look(Mode::keyed, 1ms), Fate::refused);
    }
}

TEST_F(AForcedKey, MayStillTurnAStationRoundThatIsOnItsWayBack) {
    for (const State state : {State::unkeying, State::antenna_to_receive, State::unmuting}) {
        key.sent(0ms);
        blocks(state, 2);
        EXPECT_EQ(key.look(Mode::keyed, 1ms), Fate::waits);
        EXPECT_EQ(key.look(Mode::keyed, ForcedKey::patience), Fate::refused);
    }
}

TEST_F(AForcedKey, IsOvertakenByASafe) {
    key.sent(0ms);
    blocks(State::on_air, 2);
    EXPECT_EQ(key.look(Mode::safe, 1ms), Fate::overtaken);
}

TEST_F(AForcedKey, IsNotKnownToBeObeyedWithoutSound) {
    key.sent(0ms);
    EXPECT_EQ(key.look(Mode::keyed, ForcedKey::patience), Fate::unanswered);
}

}  // namespace
}  // namespace tripline::service
