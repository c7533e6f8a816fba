// The station's clocks, fed with verdicts by hand. A hop is 1 ms here.
#include "daemon/station/logic.h"

#include "tests/station/take.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tripline::station::test {
namespace {

using dsp::Cause;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Hertz rate{48000};

class TheLogic : public testing::Test {
protected:
    /// The same verdict for a while.
    void hear(Cause cause, Duration time, bool finite = true) {
        dsp::Heard heard;
        heard.cause = cause;
        heard.voice = heard.held = cause == Cause::voice;
        for (Duration done{0}; done < time; done += 1ms)
            logic.hop(now += to_frames(1ms, rate), heard, finite, take);
    }
    std::size_t count(EventKind kind) const {
        return static_cast<std::size_t>(
            std::count_if(take.events.begin(), take.events.end(),
                          [kind](const Event& event) { return event.kind == kind; }));
    }

    Logic logic{Settings{}, rate};
    Frames now;
    Take take;
};

TEST_F(TheLogic, EndsASteadyToneWithItsReasonAndLocksOutUntilItIsQuiet) {
    hear(Cause::voice, 3s);
    ASSERT_EQ(logic.state(), State::on_air);
    hear(Cause::steady, 1ms);
    EXPECT_FALSE(logic.lines().ptt);
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::steady_tone);
    hear(Cause::steady, 10s);
    hear(Cause::voice, 1s);
    EXPECT_EQ(logic.state(), State::locked_out);
    hear(Cause::quiet, 1999ms);
    EXPECT_EQ(logic.state(), State::locked_out);
    hear(Cause::quiet, 1ms);
    EXPECT_EQ(logic.state(), State::rest);
}

TEST_F(TheLogic, SaysWhenWhatKeyedWasNoSpeechAndDoesNotLockOut) {
    hear(Cause::voice, 400ms);
    hear(Cause::not_speech, 100ms);
    EXPECT_EQ(take.entry(State::unkeying).reason, Reason::not_speech);
    EXPECT_EQ(logic.state(), State::rest);
}

TEST_F(TheLogic, LetsNeitherClicksNorTheFarStationProlongALockOut) {
    hear(Cause::voice, 1s);
    hear(Cause::steady, 1s);
    for (int i = 0; i < 20; ++i) {
        hear(Cause::qualifying, 5ms);
        hear(Cause::quiet, 50ms);
        hear(Cause::masked, 50ms);
    }
    EXPECT_EQ(logic.state(), State::rest);
}

TEST_F(TheLogic, BeginsTheQuietAnewForEverySoundThatIsNotQuiet) {
    hear(Cause::voice, 1s);
    hear(Cause::steady, 1s);
    for (const Cause loud : {Cause::voice, Cause::steady, Cause::not_speech, Cause::not_finite}) {
        hear(Cause::quiet, 1900ms);
        hear(loud, 1ms);
    }
    EXPECT_EQ(logic.state(), State::locked_out);
}

TEST_F(TheLogic, TellsOfEdgesOnly) {
    hear(Cause::voice, 1s);
    hear(Cause::not_finite, 1s, false);
    hear(Cause::quiet, 1s);
    EXPECT_EQ(count(EventKind::voice), 2U);
    EXPECT_EQ(count(EventKind::reset), 1U);
    EXPECT_EQ(count(EventKind::mode), 0U);
    logic.set_mode(Mode::armed);  // as before
    hear(Cause::quiet, 1ms);
    EXPECT_EQ(count(EventKind::mode), 0U);
    logic.set_mode(Mode::keyed);
    hear(Cause::quiet, 1ms);
    logic.set_mode(Mode::keyed);  // a command, even if the mode stays
    hear(Cause::quiet, 1ms);
    EXPECT_EQ(count(EventKind::mode), 2U);
}

TEST_F(TheLogic, RefusesAForcedKeyDuringAFaultEvenWhenTheFaultIsOver) {
    logic.set_fault(true);
    logic.set_mode(Mode::keyed);
    hear(Cause::quiet, 1s);
    EXPECT_EQ(take.entry(State::locked_out).reason, Reason::refused);
    logic.set_fault(false);
    hear(Cause::quiet, 10s);
    EXPECT_EQ(logic.state(), State::locked_out);
    logic.set_mode(Mode::keyed);
    hear(Cause::quiet, 1s);
    EXPECT_TRUE(logic.lines().ptt);
}

TEST_F(TheLogic, KeysNothingForHalfASecondAfterABrokenSample) {
    hear(Cause::voice, 1s);
    hear(Cause::not_finite, 1ms, false);
    EXPECT_FALSE(logic.lines().ptt);
    hear(Cause::voice, 499ms);
    EXPECT_EQ(logic.state(), State::rest);
    hear(Cause::voice, 100ms);
    EXPECT_TRUE(logic.lines().ptt);
}

TEST_F(TheLogic, RunsTheOversClockOnThroughAKeyOpenedForAMoment) {
    hear(Cause::voice, 179s);
    hear(Cause::quiet, 5ms);
    EXPECT_EQ(logic.state(), State::unkeying);
    hear(Cause::voice, 500ms);
    EXPECT_TRUE(logic.lines().ptt);
    hear(Cause::voice, 700ms);
    EXPECT_EQ(logic.state(), State::locked_out);
}

TEST_F(TheLogic, ThatTakesOverFromAStationOnTheAirBeginsAtRestAndForcesNothing) {
    logic.set_mode(Mode::keyed);
    hear(Cause::quiet, 1s);
    ASSERT_TRUE(logic.lines().ptt);
    Logic after(Settings{}, rate);
    after.take_over(logic);
    EXPECT_EQ(after.lines(), Lines{});
    logic = after;
    hear(Cause::quiet, 10s);
    EXPECT_EQ(logic.state(), State::locked_out);
    logic.set_mode(Mode::keyed);
    hear(Cause::quiet, 1s);
    EXPECT_TRUE(logic.lines().ptt);
}

TEST_F(TheLogic, DoesNotDependOnWhatTimeItIs) {
    now = {std::int64_t{1} << 60};
    hear(Cause::voice, 1s);
    EXPECT_TRUE(logic.lines().ptt);
    hear(Cause::quiet, 1s);
    EXPECT_EQ(logic.state(), State::rest);
}

}  // namespace
}  // namespace tripline::station::test
