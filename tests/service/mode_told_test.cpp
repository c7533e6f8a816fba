// The log tells of the modes that came to be.
#include "daemon/service/mode_told.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using station::EventKind;
using station::Mode;
using station::State;

station::Event mode_event(Mode mode, State at) { return {.kind = EventKind::mode, .from = at, .to = at, .mode = mode}; }
station::Event state_event(State to) { return {.kind = EventKind::state, .to = to, .mode = Mode::keyed}; }

TEST(ModeKeyed, IsToldOfOnceTheStationIsOnItsWayToTheAir) {
    ModeTold told;
    EXPECT_FALSE(told.take(mode_event(Mode::keyed, State::rest)));
    EXPECT_EQ(told.take(state_event(State::muting)), Mode::keyed);
    EXPECT_FALSE(told.take(state_event(State::antenna_to_transmit))) << "once";
    EXPECT_EQ(told.take(mode_event(Mode::armed, State::on_air)), Mode::armed);
    EXPECT_EQ(told.take(mode_event(Mode::keyed, State::hold)), Mode::keyed) << "a voice had keyed it already";
}

TEST(ModeKeyed, ThatWasRefusedIsNoModeToTellOf) {
    ModeTold told;
    EXPECT_FALSE(told.take(mode_event(Mode::keyed, State::locked_out)));
    EXPECT_FALSE(told.take(mode_event(Mode::armed, State::locked_out))) << "it was armed all the time";
    EXPECT_FALSE(told.take(mode_event(Mode::keyed, State::rest)));
    EXPECT_FALSE(told.take(state_event(State::locked_out)));
    EXPECT_EQ(told.take(mode_event(Mode::safe, State::locked_out)), Mode::safe) << "commanded before the refusal was known";
    EXPECT_EQ(told.take(mode_event(Mode::armed, State::locked_out)), Mode::armed);
}

TEST(ModeKeyed, ThatTheTimeLimitEndedIsToldOfAgainOnlyIfItComesToBe) {
    ModeTold told;
    told.take(mode_event(Mode::keyed, State::rest));
    EXPECT_EQ(told.take(state_event(State::muting)), Mode::keyed);
    EXPECT_FALSE(told.take(mode_event(Mode::keyed, State::locked_out)));
    EXPECT_FALSE(told.take(mode_event(Mode::keyed, State::locked_out)));
    EXPECT_FALSE(told.take(state_event(State::rest))) << "lifted";
    EXPECT_EQ(told.take(state_event(State::muting)), Mode::keyed);
}

}  // namespace
}  // namespace tripline::service
