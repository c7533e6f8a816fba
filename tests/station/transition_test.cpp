// The rules of the station, walked whole: every state under every lock and all conditions,
// 245,760 steps, whether reachable or not.
#include "tests/station/conditions.h"

#include "daemon/station/names.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace tripline::station::test {
namespace {

template <typename Check>
void for_each_step(Check check) {
    for_each_standing([&](Standing now) {
        for_each_conditions([&](const Conditions& c) {
            const Step step = next(now, c);
            SCOPED_TRACE(std::string{name(now.state)} + " to " +
                         std::string{name(step.standing.state)});
            check(now, c, step);
        });
    });
}

int lines_that_differ(Lines a, Lines b) {
    return int{a.ptt != b.ptt} + int{a.mute != b.mute} + int{a.antenna != b.antenna};
}

TEST(TheRules, ChangeNothingWhileNothingIsOnTheWayOrAsks) {
    int idle_steps = 0;
    for_each_step([&](Standing now, const Conditions& c, const Step& step) {
        if (!idle(now, c.mode, c.voice)) return;
        ASSERT_EQ(step.standing, now);
        ++idle_steps;
    });
    EXPECT_EQ(idle_steps, 2 << (ConditionBits::bits - 1));   // armed or safe, all else but voice
}

TEST(TheRules, MoveOneLineAStepAtMost) {
    for_each_step([](Standing now, const Conditions&, const Step& step) {
        ASSERT_LE(lines_that_differ(lines_of(now.state), lines_of(step.standing.state)), 1);
    });
}

TEST(TheRules, CloseTheKeyOnlyFromSettlingWhenItsTimeHasRunOut) {
    for_each_step([](Standing now, const Conditions& c, const Step& step) {
        if (lines_of(now.state).ptt || !lines_of(step.standing.state).ptt) return;
        ASSERT_EQ(now.state, State::settling);
        ASSERT_TRUE(c.elapsed);
    });
}

TEST(TheRules, MoveTheAntennaRelayOnlyWithTheKeyOpenAndTheReceiverMuted) {
    for_each_step([](Standing now, const Conditions&, const Step& step) {
        const Lines before = lines_of(now.state);
        const Lines after = lines_of(step.standing.state);
        if (before.antenna == after.antenna) return;
        ASSERT_FALSE(before.ptt || after.ptt);
        ASSERT_TRUE(before.mute && after.mute);
    });
}

TEST(TheRules, OpenTheReceiverOnlyOnceTheAntennaHasBeenAtReceive) {
    for_each_step([](Standing now, const Conditions& c, const Step& step) {
        if (!lines_of(now.state).mute || lines_of(step.standing.state).mute) return;
        ASSERT_EQ(now.state, State::unmuting);
        ASSERT_TRUE(c.elapsed);
    });
}

TEST(TheRules, OpenTheKeyAtOnceUnderWhateverForbidsTheAir) {
    for_each_step([](Standing, const Conditions& c, const Step& step) {
        if (forbids(c) == Reason::none) return;
        ASSERT_FALSE(lines_of(step.standing.state).ptt);
    });
}

TEST(TheRules, NeverTakeAStepTowardsTheAirInModeSafe) {
    const std::set towards{State::antenna_to_transmit, State::settling, State::on_air, State::hold};
    for_each_step([&](Standing now, const Conditions& c, const Step& step) {
        if (c.mode != Mode::safe) return;
        const bool moved = now.state != step.standing.state;
        ASSERT_FALSE(moved && towards.contains(step.standing.state));
        ASSERT_FALSE(moved && step.standing.state == State::muting);
    });
}

TEST(TheRules, LockOutAfterATimeOutAndAfterASteadyTone) {
    for_each_step([](Standing now, const Conditions&, const Step& step) {
        if (step.reason != Reason::too_long && step.reason != Reason::steady_tone) return;
        ASSERT_NE(now.state, step.standing.state);
        ASSERT_TRUE(step.standing.lock.quiet);
    });
}

TEST(TheRules, GiveTheReasonWhenATimeOutOpensTheKey) {
    for_each_step([](Standing now, const Conditions& c, const Step& step) {
        if (!lines_of(now.state).ptt || forbids(c) != Reason::too_long) return;
        ASSERT_EQ(step.standing.state, State::unkeying);
        ASSERT_EQ(step.reason, Reason::too_long);
    });
}

TEST(TheRules, NeverGoTowardsTheAirUnderALock) {
    const std::set towards{State::muting, State::antenna_to_transmit, State::settling,
                           State::on_air};
    for_each_step([&](Standing now, const Conditions&, const Step& step) {
        if (!step.standing.lock.any()) return;
        ASSERT_FALSE(now.state != step.standing.state && towards.contains(step.standing.state));
        ASSERT_FALSE(lines_of(step.standing.state).ptt);
    });
}

TEST(TheRules, LiftALockOutOnlyForAQuietMicrophone) {
    for_each_step([](Standing now, const Conditions& c, const Step& step) {
        if (!now.lock.quiet || c.quiet) return;
        ASSERT_TRUE(step.standing.lock.quiet);
    });
}

TEST(TheRules, LetAForcedKeyComeBackOnlyByAnotherCommand) {
    for_each_step([](Standing now, const Conditions& c, const Step& step) {
        if (c.mode != Mode::keyed) return;
        const bool refused = forbids(c) != Reason::none || (now.lock.quiet && !c.quiet);
        const bool spent = now.lock.command && !c.commanded;
        ASSERT_EQ(step.standing.lock.command, refused || spent);
    });
}

TEST(TheRules, DoNotEndAForcedTransmissionForASteadyTone) {
    Conditions tuning{.mode = Mode::keyed, .steady = true};
    EXPECT_EQ(next({State::on_air, {}}, tuning).standing.state, State::on_air);
    tuning.mode = Mode::armed;
    EXPECT_EQ(next({State::on_air, {}}, tuning).reason, Reason::steady_tone);
}

TEST(TheRules, GiveAReasonForEveryStepAndNoneWithoutOne) {
    for_each_step([](Standing now, const Conditions&, const Step& step) {
        ASSERT_EQ(step.reason == Reason::none, step.standing.state == now.state);
    });
}

TEST(TheRules, ComeToAStandWithinOneCycleWhateverHolds) {
    std::size_t most = 0;
    for_each_standing([&](Standing start) {
        for_each_conditions([&](Conditions c) {
            std::size_t steps = 0;
            Standing now = start;
            for (Step step = next(now, c); step.standing.state != now.state; step = next(now, c)) {
                now = step.standing;
                c.commanded = false;
                ASSERT_LE(++steps, all_states.size());
            }
            most = std::max(most, steps);
        });
    });
    std::cout << "most steps in one hop: " << most << "\n";
}

TEST(TheLines, AreAtRestJustInRestAndLockedOut) {
    for (const State state : all_states)
        EXPECT_EQ(lines_of(state) == Lines{}, state == State::rest || state == State::locked_out);
}

TEST(TheLines, NeverKeyWithoutAntennaNorMoveTheAntennaWithoutMute) {
    for (const State state : all_states) {
        const Lines lines = lines_of(state);
        EXPECT_TRUE(!lines.ptt || lines.antenna) << name(state);
        EXPECT_TRUE(!lines.antenna || lines.mute) << name(state);
    }
}

}  // namespace
}  // namespace tripline::station::test
