#include "daemon/replay/report.h"
#include "daemon/replay/figures.h"

#include <gtest/gtest.h>

namespace tripline::replay {
namespace {

using std::chrono_literals::operator""s;
using std::chrono_literals::operator""us;

/// Relays need 50 ms, of which the transmitter's own 15 ms; hang time 1.5 s.
constexpr Timing timing{.hold = 1500ms, .relay = 50ms, .transmitter = 15ms, .look_ahead = 0ms};

Spell spell(Duration decided, Duration released) {
    return {.decided = decided, .keyed = decided + 35ms, .released = released, .reason = station::Reason::silence};
}

TEST(TheRelayTime, CountsTheLongerOfMuteAndFade) {
    station::Settings settings;
    settings.loudspeaker_fade = 30ms;
    EXPECT_EQ(timing_of(settings).relay, 30ms + 20ms + 10ms + 15ms);
}

TEST(AnOver, IsOneWhenItsSpurtsLieCloserThanTheHangTime) {
    const Spans labels{{1s, 2s}, {3499ms, 4s}, {5500ms, 6s}};
    EXPECT_EQ(score(labels, {}, timing, 10s).overs, 2);
}

TEST(AnOver, ThatWasNeverOnTheAirIsMissed) {
    const Score s = score({{1s, 2s}}, {}, timing, 10s);
    EXPECT_EQ(s.missed, 1);
    EXPECT_EQ(s.lost, 1s);
    EXPECT_TRUE(s.onset.empty());
}

TEST(AnOver, LosesAtItsFrontTheOnsetAndTheRelayTime) {
    const Score s = score({{1s, 3s}}, {spell(1020ms, 4500ms)}, timing, 10s);
    EXPECT_EQ(s.missed, 0);
    EXPECT_EQ(s.false_keys, 0);
    EXPECT_EQ(s.onset, std::vector<Duration>{20ms});
    EXPECT_EQ(s.front_lost, std::vector<Duration>{70ms});
    EXPECT_EQ(s.lost, 70ms);
    EXPECT_EQ(s.clipped, 1);
    EXPECT_EQ(s.tail, std::vector<Duration>{1500ms});
    EXPECT_EQ(on_air(s, timing), std::vector<Duration>{70ms});
}

TEST(AnOver, LosesNothingWhenTheAudioComesLaterThanTheTransmitter) {
    Timing late = timing;
    late.look_ahead = 70ms;
    const Score s = score({{1s, 3s}}, {spell(1020ms, 4500ms)}, late, 10s);
    EXPECT_EQ(s.lost, 0s);
    EXPECT_EQ(s.clipped, 0);
    EXPECT_EQ(on_air(s, late), std::vector<Duration>{0ms});
}

TEST(AnOver, ThatTheRecordingEndsInLosesNothingAfterTheEnd) {
    Timing late = timing;
    late.look_ahead = 70ms;
    const Spell open{1020ms, 1055ms, 4s, station::Reason::none};
    const Score s = score({{1s, 3s}, {3500ms, 9s}, {9500ms, 12s}}, {open}, late, 4s);
    EXPECT_EQ(s.overs, 1);
    EXPECT_EQ(s.speech, 2500ms);
    EXPECT_EQ(s.lost, 0s);
}

TEST(AnOver, ThatFallsOffTheAirHasADropout) {
    const Score s = score({{1s, 5s}}, {spell(1s, 3s), spell(3200ms, 6500ms)}, timing, 10s);
    EXPECT_EQ(s.dropout, 250ms);
    EXPECT_EQ(s.false_keys, 0);
    EXPECT_EQ(s.tail, std::vector<Duration>{1500ms});
}

TEST(AnOver, ThatWasCaughtIsTornWhenMoreThanATenthOfItsSpeechIsLost) {
    EXPECT_EQ(score({{1s, 5s}}, {spell(4s, 6500ms)}, timing, 10s).torn, 1);
    EXPECT_EQ(score({{1s, 5s}}, {spell(1s, 3s), spell(3300ms, 6500ms)}, timing, 10s).torn, 0);
    EXPECT_EQ(score({{1s, 5s}}, {spell(1s, 3s), spell(3400ms, 6500ms)}, timing, 10s).torn, 1);
    EXPECT_EQ(score({{1s, 5s}}, {}, timing, 10s).torn, 0);
}

TEST(AnOver, IsNotTornByWhatRelaysTakeNorByLessThanAFifthOfASecond) {
    Timing slow = timing;
    slow.relay = 300ms;
    slow.transmitter = 265ms;
    EXPECT_EQ(score({{1s, 2s}}, {spell(1s, 3500ms)}, slow, 10s).torn, 0);
    EXPECT_EQ(score({{1s, 2s}}, {spell(1190ms, 3500ms)}, slow, 10s).torn, 0);
    EXPECT_EQ(score({{1s, 2s}}, {spell(1210ms, 3500ms)}, slow, 10s).torn, 1);
    EXPECT_EQ(score({{1s, 1500ms}}, {spell(1190ms, 3500ms)}, timing, 10s).torn, 0);
}

TEST(AnOver, ThatBeginsWhileTheKeyIsClosedHasNoOnset) {
    const Score s = score({{1s, 2s}, {4s, 5s}}, {spell(1s, 6500ms)}, timing, 10s);
    EXPECT_EQ(s.already_keyed, 1);
    EXPECT_EQ(s.onset.size(), 1U);
}

TEST(AKey, IsFalseWhenItClosesOutsideEveryOver) {
    EXPECT_EQ(score({{5s, 6s}}, {spell(1s, 3s)}, timing, 10s).false_keys, 1);
    EXPECT_EQ(score({{5s, 6s}}, {spell(4790ms, 8s)}, timing, 10s).false_keys, 1);
    EXPECT_EQ(score({{5s, 6s}}, {spell(4810ms, 8s)}, timing, 10s).false_keys, 0);
    EXPECT_EQ(score({{5s, 6s}}, {spell(6010ms, 8s)}, timing, 10s).false_keys, 1);
}

TEST(AKey, IsHeldOnWhenItStaysClosedLongAfterTheHangTime) {
    EXPECT_EQ(score({{1s, 3s}}, {spell(1s, 5499ms)}, timing, 20s).held_on, 0);
    EXPECT_EQ(score({{1s, 3s}}, {spell(1s, 5501ms)}, timing, 20s).held_on, 1);
    EXPECT_EQ(score({{1s, 3s}, {8s, 9s}}, {spell(1s, 12s)}, timing, 20s).held_on, 2);
    EXPECT_EQ(score({{1s, 3s}, {5s, 9s}}, {spell(1s, 10500ms)}, timing, 20s).held_on, 0);
}

TEST(TheDetectionCost, DoesNotBlameTheHangTime) {
    const Score s = score({{1s, 2s}}, {spell(965ms, 3500ms)}, timing, 10s);
    EXPECT_EQ(s.detection.cost(), 0);
}

TEST(APercentile, IsTheNearestRank) {
    EXPECT_EQ(percentile({}, 0.5), 0ms);
    EXPECT_EQ(percentile({4ms, 1ms, 3ms, 2ms}, 0.5), 2ms);
    EXPECT_EQ(percentile({4ms, 1ms, 3ms, 2ms}, 0.51), 3ms);
    EXPECT_EQ(percentile({4ms, 1ms, 3ms, 2ms}, 1), 4ms);
}

Result result(const char* file, const Spans& labels, std::vector<Spell> spells) {
    const Score s = score(labels, spells, timing, 10s);
    return {file, 10s, Hertz{48000}, std::move(spells), timing, s};
}

TEST(AReport, AddsUpItsFilesAndPoolsTheirOnsets) {
    const Report report = make_report({result("a.wav", {{1s, 3s}}, {spell(1010ms, 4500ms)}),
                                       result("b.wav", {{1s, 3s}}, {spell(1030ms, 4500ms)})},
                                      {});
    const Result sum = total(report.files);
    EXPECT_EQ(sum.length, 20s);
    EXPECT_EQ(sum.score->overs, 2);
    EXPECT_EQ(sum.score->onset, (std::vector<Duration>{10ms, 30ms}));
}

TEST(AReport, ChecksLimitsOnTheTotal) {
    const auto files = [] {
        return std::vector{result("a.wav", {{1s, 3s}}, {}), result("b.wav", {{1s, 3s}}, {})};
    };
    EXPECT_FALSE(make_report(files(), {.missed = 1}).met());
    EXPECT_TRUE(make_report(files(), {.missed = 2}).met());
    EXPECT_TRUE(make_report(files(), {}).met());
}

TEST(AReport, CountsAnOverThatWasTornAgainstTheStation) {
    const Report report = make_report({result("a.wav", {{1s, 5s}}, {spell(4s, 6500ms)})}, {.torn = 0});
    EXPECT_FALSE(report.met());
    EXPECT_NE(to_text(report).find("NOT MET: torn 1, limit 0"), std::string::npos) << to_text(report);
    EXPECT_NE(to_json(report).find("\"torn\": 1"), std::string::npos);
}

TEST(AReport, DoesNotCallAnOnsetGoodThatNobodyMeasured) {
    const Report report = make_report({result("a.wav", {{1s, 3s}}, {})}, {.missed = 1, .onset_p50_ms = 100});
    EXPECT_FALSE(report.met());
    const std::string text = to_text(report);
    EXPECT_NE(text.find("onset            p50 -, p95 -, max -"), std::string::npos) << text;
    EXPECT_NE(text.find("NOT MET: onset_p50_ms -, limit 100"), std::string::npos) << text;
    const std::string json = to_json(report);
    EXPECT_NE(json.find("\"onset_p50_ms\": null"), std::string::npos) << json;
    EXPECT_NE(json.find("\"found\": null"), std::string::npos) << json;
}

TEST(AReport, TellsWhyEachTransmissionBeganAndEnded) {
    Spell keyed = spell(1020ms, 4500ms);
    keyed.began_by = station::Reason::voice;
    keyed.heard = {.voice = true, .held = true, .cause = dsp::Cause::voice, .measures = {}};
    keyed.heard.measures.threshold = to_power(Dbfs{-50});
    keyed.heard.measures.remainder = to_power(Dbfs{-37.75});
    const Report report = make_report({result("a.wav", {{1s, 3s}}, {keyed})}, {});
    const std::string text = to_text(report);
    EXPECT_NE(text.find("    by voice (voice): microphone "), std::string::npos) << text;
    const std::string json = to_json(report);
    for (const char* part : {"\"transmissions\"", "\"start_s\": 1.055", "\"end_s\": 4.5", "\"began_by\": \"voice\"",
                             "\"ended_by\": \"silence\""})
        EXPECT_NE(json.find(part), std::string::npos) << part << " in\n" << json;
}

TEST(AReport, TellsWhichFiguresHaveALimit) {
    const auto files = [] { return std::vector{result("a.wav", {{1s, 3s}}, {spell(1020ms, 4500ms)})}; };
    const std::string text = to_text(make_report(files(), {.missed = 0}));
    EXPECT_NE(text.find("\nlimits (a figure that stands above and not here is told only):\nmet: missed 0, limit 0\n"), std::string::npos) << text;
    EXPECT_EQ(to_text(make_report(files(), {})).find("limits ("), std::string::npos);
}

TEST(AReport, HasNoFewerDigitsAsJsonThanAsText) {
    const Spell late{.decided = 1010ms, .keyed = 1045ms, .released = 4500512us, .reason = station::Reason::silence};
    const std::string json = to_json(make_report({result("a.wav", {{1s, 3s}}, {late})}, {.cost = 1}));
    for (const char* part : {"\"end_s\": 4.500512", "\"p_miss\": 0.0225", "\"p_false\": 7.9e-05", "\"cost\": 0.016895", "\"found\": 0.016895"})
        EXPECT_NE(json.find(part), std::string::npos) << part << " not in\n" << json;
}

TEST(AReport, HasFilesAndTotalAsJson) {
    const std::string json =
        to_json(make_report({result("a.wav", {{1s, 3s}}, {spell(1020ms, 4500ms)})}, {.missed = 0}));
    for (const char* part :
         {"\"files\"", "\"total\"", "\"file\": \"a.wav\"", "\"overs\": 1", "\"missed\": 0",
          "\"false_keys\": 0", "\"onset_p50_ms\": 20.0", "\"onset_longest_ms\": 20.0", "\"on_air_p95_ms\"", "\"relay_ms\": 50.0", "\"look_ahead_ms\": 0.0",
          "\"dropout_ms\": 0.0", "\"tail_p50_ms\"", "\"lost_percent\": 3.5",
          "\"clipped_percent\": 100.0", "\"cost\"", "\"met\": true"}) {
        EXPECT_NE(json.find(part), std::string::npos) << part << " not in\n" << json;
    }
}

TEST(AReport, KeepsAFileNameThatIsNotTextFromBreakingTheJson) {
    EXPECT_NO_THROW(to_json(make_report({result("\xff\xfe.wav", {}, {})}, {})));
}

TEST(AReport, TellsInWordsWhatWasKeyedWhen) {
    const std::string text = to_text(make_report({result("a.wav", {{1s, 3s}}, {spell(1020ms, 4500ms)})}, {}));
    EXPECT_NE(text.find("keyed      1.055 s to      4.500 s"), std::string::npos) << text;
}

}  // namespace
}  // namespace tripline::replay
