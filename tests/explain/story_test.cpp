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

TEST(AnAccount, TellsTheTimeOfDayWhereItIsKnownWhenTheRecordingBegan) {
    Account account = keyed_again_after(1s);
    EXPECT_EQ(account.clock(3s), "");
    account.began = std::chrono::sys_days(std::chrono::year(2026) / 11 / 26) + std::chrono::milliseconds(86'398'250);
    EXPECT_EQ(account.clock(1s), " (23:59:59.250 UTC)");
    EXPECT_EQ(account.clock(2500ms), " (00:00:00.750 UTC)");
    const Subject subject{.source = {}, .settings = {}};
    EXPECT_TRUE(moment_in_words(account, {account.spells.back().keyed}, subject, Cures::none).find(" UTC): keyed, from ") < 40);
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
        return silence_in_words(account, {19s, 21s}, {20s}, {});
    };
    EXPECT_NE(why(Dbfs{-55}, Dbfs{-90}).find("It was too quiet: under the threshold of the gate."), std::string::npos);
    const std::string masked = why(Dbfs{-55}, Dbfs{-54});
    EXPECT_NE(masked.find("no louder than what the loudspeaker may leak"), std::string::npos) << masked;
    EXPECT_EQ(masked.find("too quiet"), std::string::npos) << masked;
}

/// Hops of a millisecond from 19 s on, of one kind after the other.
struct Stretch {
    int hops;
    dsp::Cause cause;
    Dbfs microphone, leak;
};

Account heard(const std::vector<Stretch>& stretches) {
    Account account{.rate = rate, .length = 60s, .spells = {}, .events = {}, .hops = {}};
    Duration at = 19s;
    for (const Stretch& stretch : stretches) {
        for (int i = 0; i < stretch.hops; ++i, at += 1ms) {
            Hop one = hop(Mode::armed, State::rest, stretch.cause);
            one.at = at;
            one.heard.measures = {.microphone = to_power(stretch.microphone), .leak = to_power(stretch.leak),
                                  .floor = to_power(Dbfs{-70}), .threshold = to_power(Dbfs{-50})};
            dsp::Measures& m = one.heard.measures;
            m.remainder = std::max(0.0F, m.microphone - m.leak);
            account.hops.push_back(one);
        }
    }
    return account;
}

std::string why(const std::vector<Stretch>& stretches, Duration at = 19500ms) { return silence_in_words(heard(stretches), {19s, 20s}, {at}, {}); }

constexpr Dbfs none{-150};

TEST(ASilence, CountsUnderTheLoudspeakersShareWhatThatMayHaveMade) {
    const std::string text = why({{600, dsp::Cause::quiet, Dbfs{-52}, Dbfs{-53}}, {400, dsp::Cause::quiet, Dbfs{-68}, none}});
    EXPECT_NE(text.find(": quiet 400 ms, masked 600 ms.\n"), std::string::npos) << text;
}

TEST(AWholeSecond, IsItsOwnStretchAndNoMomentOfItCountsMoreThanTheOthers) {
    const Account account = heard({{100, dsp::Cause::qualifying, Dbfs{-30}, none}, {900, dsp::Cause::masked, Dbfs{-45}, Dbfs{-45}}});
    const Moment second{19s, 1s};
    const auto around = surroundings(account, second);
    EXPECT_EQ(around.begin, 19s);
    EXPECT_EQ(around.end, 20s);
    EXPECT_EQ(silence_in_words(account, around, second, {}).find("  The receiver could explain"), 0U);
    EXPECT_EQ(silence_in_words(account, around, {19s}, {}).find("  It was loud enough, but too short"), 0U) << "its first millisecond alone";
    Account keyed = account;
    keyed.spells = {{.decided = 10s, .keyed = 10s, .released = 18900ms}, {.decided = 19700ms, .keyed = 19735ms, .released = 21s}};
    EXPECT_EQ(surroundings(keyed, second).end, 19700ms);
    EXPECT_EQ(surroundings(keyed, second).begin, 19s);
}

TEST(ASilence, IsBlamedOnWhatLastedLongestAndNotOnTheMomentNearestToKeying) {
    const std::string text = why({{900, dsp::Cause::masked, Dbfs{-45}, Dbfs{-45}}, {100, dsp::Cause::blanked, Dbfs{-30}, none}});
    EXPECT_EQ(text.find("  The receiver could explain"), 0U) << text;
    EXPECT_NE(text.find("Nearest to keying for that reason, at 19."), std::string::npos) << text;
    EXPECT_NE(text.find("Nearer to keying, at 19.900 s: blanked, 20.0 dB over the threshold.\n"), std::string::npos) << text;
    EXPECT_EQ(text.find("relays"), std::string::npos) << text;
}

TEST(ASilence, IsBlamedOnTheReasonOfTheMomentAskedForWhereThatStoodOverTheThreshold) {
    const std::vector<Stretch> both{{900, dsp::Cause::masked, Dbfs{-45}, Dbfs{-45}}, {60, dsp::Cause::blanked, Dbfs{-30}, none}, {40, dsp::Cause::blanked, Dbfs{-55}, none}};
    const std::string over = why(both, 19930ms);
    EXPECT_EQ(over.find("  The station's own relays"), 0U) << over;
    EXPECT_NE(over.find("Nearest to keying, at 19.900 s:"), std::string::npos) << over;
    EXPECT_NE(over.find(": masked 900 ms, blanked 100 ms.\n"), std::string::npos) << over;
    const std::string under = why(both, 19970ms);
    EXPECT_EQ(under.find("  The receiver could explain"), 0U) << under;
}

TEST(ASilence, IsBlamedOnAWordThatStoodOutAndNotOnThePausesAroundIt) {
    const Stretch pause{700, dsp::Cause::quiet, Dbfs{-68}, none};
    EXPECT_EQ(why({pause, {300, dsp::Cause::blanked, Dbfs{-30}, none}}).find("  The station's own relays"), 0U);
    EXPECT_EQ(why({pause, {49, dsp::Cause::blanked, Dbfs{-30}, none}, {251, dsp::Cause::quiet, Dbfs{-68}, none}}).find("  It was too quiet"), 0U)
        << "a click is no word";
}

TEST(ASilence, OfALoudspeakerIsOneReasonUnderTheThresholdAndOverIt) {
    const std::string text = why({{400, dsp::Cause::masked, Dbfs{-40}, Dbfs{-39}}, {400, dsp::Cause::quiet, Dbfs{-52}, Dbfs{-53}},
                                  {200, dsp::Cause::blanked, Dbfs{-30}, none}});
    EXPECT_EQ(text.find("too quiet"), std::string::npos) << text;
    EXPECT_NE(text.find("loudspeaker may leak"), std::string::npos) << text;
}

TEST(ASoundThatIsMostlyTheLeak, IsNotCalledTooQuiet) {
    const std::string soft = why({{1000, dsp::Cause::quiet, Dbfs{-52}, Dbfs{-53}}});
    EXPECT_NE(soft.find("most of it is what the loudspeaker may leak"), std::string::npos) << soft;
    const std::string loud = why({{1000, dsp::Cause::quiet, Dbfs{-40}, Dbfs{-41}}});
    EXPECT_NE(loud.find("what was left without it may still be the loudspeaker's"), std::string::npos) << loud;
}

TEST(ASoundUnderAThresholdThatOthersHoldUp, IsNotCalledTooQuiet) {
    Account account = heard({{1000, dsp::Cause::quiet, Dbfs{-35}, none}});
    for (Hop& one : account.hops) one.heard.measures.threshold = to_power(Dbfs{-30});
    station::Settings settings;
    const auto text = [&] { return silence_in_words(account, {19s, 20s}, {19500ms}, settings); };
    EXPECT_NE(text().find("which other sounds of the room, heard before or expected at the start, held up;\n  the loudspeaker may"), std::string::npos) << text();
    settings.detector.leak.method = dsp::AntiTrip::echo;
    EXPECT_NE(text().find("held up.\n"), std::string::npos) << text();
}

TEST(TheEchoMethod, IsTriedOnlyWhereTheStationCouldHaveIt) {
    const auto tried = [](const config::Settings& settings) {
        Hop all_leak = hop(Mode::armed, State::rest, dsp::Cause::masked);
        all_leak.heard.measures = {.microphone = to_power(Dbfs{-45}), .leak = to_power(Dbfs{-44}), .threshold = to_power(Dbfs{-50})};
        return std::ranges::count(knobs_to_key(all_leak, settings), "anti_trip.method", &Knob::key);
    };
    EXPECT_EQ(tried({}), 1);
    config::Settings two_clocks;
    two_clocks.audio.monitor_device = "another card";
    EXPECT_EQ(tried(two_clocks), 0);
    config::Settings has_it;
    has_it.station.detector.leak.method = dsp::AntiTrip::echo;
    EXPECT_EQ(tried(has_it), 0);
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
