// What is told of a moment, from an account made by hand.
#include "daemon/explain/barrier.h"
#include "daemon/explain/silence.h"
#include "daemon/explain/story.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tripline::explain {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;
using station::Mode;
using station::Reason;
using station::State;

constexpr Hertz rate{8000};

/// A station that came back to rest at 10 s, and keyed by voice so long after.
Account keyed_again_after(Duration pause) {
    Account account;
    account.rate = rate;
    account.length = 60s;
    const auto step = [&](Duration at, State from, State to) {
        account.events.push_back({.at = to_frames(at, rate), .from = from, .to = to, .lines = station::lines_of(to)});
    };
    step(5s, State::rest, State::muting);
    step(10s, State::unmuting, State::rest);
    const Duration decided = 10s + pause;
    step(decided, State::rest, State::muting);
    account.spells.push_back({.decided = decided, .keyed = decided + 35ms, .released = decided + 3s,
                              .reason = Reason::silence, .began_by = Reason::voice});
    return account;
}

std::string told(const Account& account, const station::Settings& settings = {}) { return all_in_words(account, settings); }

Hop hop(Mode mode, State state, dsp::Cause cause) {
    Hop one{.at = 20s, .state = state, .mode = mode};
    one.heard.cause = cause;
    return one;
}

TEST(AKeySoonAfterAnUnmute, IsToldWithTheTimeSinceIt) {
    EXPECT_NE(told(keyed_again_after(312ms)).find("The receiver had come back on 0.312 s before"), std::string::npos)
        << told(keyed_again_after(312ms));
    EXPECT_NE(told(keyed_again_after(2s)).find("The receiver had come back on 2.000 s before"), std::string::npos);
    EXPECT_EQ(told(keyed_again_after(2001ms)).find("come back on"), std::string::npos);
}

TEST(AKeySoonAfterAnUnmute, IsNotSuspectedWhereTheLoudspeakerIsNeverMute) {
    station::Settings settings;
    settings.detector.leak.muted_on_air = false;
    EXPECT_EQ(told(keyed_again_after(312ms), settings).find("come back on"), std::string::npos);
}

TEST(TheTimeSinceAnUnmute, IsNoneBeforeTheFirstAndWhileTheReceiverIsMute) {
    const Account account = keyed_again_after(1s);
    EXPECT_EQ(account.since_unmute(4s), std::nullopt);
    EXPECT_EQ(account.since_unmute(7s), std::nullopt);
    EXPECT_EQ(account.since_unmute(10500ms), 500ms);
    EXPECT_EQ(account.since_unmute(11s), 1s);
    EXPECT_EQ(account.since_unmute(12s), std::nullopt);
}

TEST(AHopWithoutAKey, HasACureOtherThanTheGateWhereNoSoundCouldKey) {
    const Account account = keyed_again_after(1s);
    const auto cure = [&](Mode mode, State state, dsp::Cause cause) { return cure_in_words(hop(mode, state, cause), account, {}); };
    EXPECT_NE(cure(Mode::safe, State::rest, dsp::Cause::quiet).find("tripline arm"), std::string::npos);
    EXPECT_NE(cure(Mode::armed, State::locked_out, dsp::Cause::voice).find("Quiet: "), std::string::npos);
    EXPECT_NE(cure(Mode::keyed, State::locked_out, dsp::Cause::voice).find("tripline key"), std::string::npos);
    EXPECT_NE(cure(Mode::armed, State::rest, dsp::Cause::withheld).find("A softer loudspeaker"), std::string::npos);
    EXPECT_EQ(cure(Mode::armed, State::rest, dsp::Cause::quiet), "");
    EXPECT_EQ(cure(Mode::armed, State::rest, dsp::Cause::masked), "");
}

TEST(ALockOut, IsToldWithTheTransmissionThatBroughtIt) {
    Account account = keyed_again_after(1s);
    account.spells.back().reason = Reason::too_long;
    const std::string text = cure_in_words(hop(Mode::armed, State::locked_out, dsp::Cause::voice), account, {});
    EXPECT_NE(text.find("The transmission from 11.035 s to 14.000 s brought it, by too_long"), std::string::npos) << text;
}

TEST(ASoftVoice, IsToldFromOneThatTheLoudspeakerMayHaveMade) {
    const auto why = [](Dbfs microphone, Dbfs leak) {
        Account account{.rate = rate, .length = 60s, .spells = {}, .events = {}, .hops = {hop(Mode::armed, State::rest, dsp::Cause::quiet)}};
        dsp::Measures& m = account.hops.front().heard.measures;
        m = {.microphone = to_power(microphone), .leak = to_power(leak), .floor = to_power(Dbfs{-70}), .threshold = to_power(Dbfs{-50})};
        m.remainder = std::max(0.0F, m.microphone - m.leak);
        return silence_in_words(account, {19s, 21s}, {});
    };
    EXPECT_NE(why(Dbfs{-55}, Dbfs{-90}).find("It was too quiet: under the threshold of the gate."), std::string::npos);
    const std::string masked = why(Dbfs{-55}, Dbfs{-54});
    EXPECT_NE(masked.find("no louder than what the loudspeaker may leak"), std::string::npos) << masked;
    EXPECT_EQ(masked.find("too quiet"), std::string::npos) << masked;
}

TEST(ASoundNoLouderThanTheLeak, IsNotSoughtToBeKeyedByTheGate) {
    Hop all_leak = hop(Mode::armed, State::rest, dsp::Cause::quiet);
    all_leak.heard.measures = {.microphone = to_power(Dbfs{-55}), .leak = to_power(Dbfs{-54}), .threshold = to_power(Dbfs{-50})};
    const auto knobs = knobs_to_key(all_leak, {});
    EXPECT_EQ(std::ranges::count(knobs, "gate.open_dbfs", &Knob::key), 0);
    EXPECT_EQ(std::ranges::count(knobs, "anti_trip.coupling_db", &Knob::key), 1);
}

}  // namespace
}  // namespace tripline::explain
