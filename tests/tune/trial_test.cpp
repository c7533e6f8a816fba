// Many settings at once give what each gives alone.
#include "daemon/tune/trial.h"

#include <gtest/gtest.h>

#include <set>
#include <stdexcept>

namespace tripline::tune {
namespace {

const replay::RecordingSource evening{"testdata/evening.flac", {}, 1, 0, false};

std::vector<station::Settings> some_settings() {
    std::vector<station::Settings> settings(3);
    settings[1].detector.gate.threshold = dsp::Threshold::fixed;
    settings[1].detector.gate.open = {-3};
    settings[2].detector.hold = std::chrono::milliseconds(3000);
    return settings;
}

TEST(ManySettings, GiveWhatEachGivesAlone) {
    const replay::LabelSet labels{"evening.rttm", replay::read_labels("testdata/evening.rttm")};
    const auto settings = some_settings();
    for (const unsigned workers : {1U, 2U, 8U}) {
        const auto trials = try_all({evening}, labels, settings, Until::the_end, workers, {});
        ASSERT_EQ(trials.size(), settings.size());
        for (std::size_t i = 0; i < settings.size(); ++i) {
            replay::Recording recording(evening);
            const auto alone = replay::examine(recording, evening, settings[i], labels, {});
            EXPECT_FALSE(trials[i].given_up);
            EXPECT_EQ(trials[i].score.missed, alone.score->missed);
            EXPECT_EQ(trials[i].score.onset, alone.score->onset);
            EXPECT_EQ(trials[i].score.lost, alone.score->lost);
            EXPECT_EQ(trials[i].score.tail, alone.score->tail);
        }
        EXPECT_GT(trials[1].score.missed, 0);
    }
}

/// Thresholds and couplings of which some do well and some badly in several ways, and one with an echo model.
std::vector<station::Settings> a_map() {
    std::vector<station::Settings> settings;
    for (const double coupling : {-36, -20, -12, 0}) {
        for (const double open : {-50, -30, -24, -15}) {
            settings.emplace_back();
            settings.back().detector.gate.open = {open};
            settings.back().detector.leak.coupling = Decibels{coupling};
        }
    }
    settings.emplace_back().detector.leak.method = dsp::AntiTrip::echo;
    settings.emplace_back().detector.gate.open = {-15};
    settings.back().detector.leak.method = dsp::AntiTrip::echo;
    return settings;
}

/// Of one recording, clipped fronts left out.
std::set<replay::MistakeKind> kinds(const station::Settings& settings, const replay::LabelSet& labels) {
    replay::Recording recording(evening);
    const auto result = replay::examine(recording, evening, settings, labels, {});
    std::set<replay::MistakeKind> found;
    for (const auto& mistake : replay::mistakes(replay::operator_speech(labels, evening, result.length), result.spells, result.timing))
        found.insert(mistake.kind);
    found.erase(replay::MistakeKind::clipped);
    return found;
}

TEST(ManySettings, AreGivenUpForAMistakeThatAReplayMakesTooAndForNothingElse) {
    const replay::LabelSet labels{"evening.rttm", replay::read_labels("testdata/evening.rttm")};
    const auto settings = a_map();
    const auto trials = try_all({evening, evening}, labels, settings, Until::first_mistake, 2, {});
    int good = 0;
    for (std::size_t i = 0; i < settings.size(); ++i) {
        SCOPED_TRACE("setting " + std::to_string(i));
        const auto made = kinds(settings[i], labels);
        EXPECT_EQ(trials[i].good(), made.empty());
        EXPECT_EQ(trials[i].given_up.has_value(), !made.empty());
        EXPECT_TRUE(made.empty() || made.contains(trials[i].given_up.value_or(replay::MistakeKind::clipped)));
        good += trials[i].good() ? 1 : 0;
    }
    EXPECT_GT(good, 2);
    EXPECT_LT(good, 14);
}

TEST(ManySettings, OfWhichNoneIsGoodAreAllTriedToTheEnd) {
    const replay::LabelSet labels{"evening.rttm", replay::read_labels("testdata/evening.rttm")};
    std::vector<station::Settings> settings(2);
    settings[0].detector.gate.open = {-15};
    settings[1].detector.leak.coupling = Decibels{-36};
    const auto trials = explore({evening}, labels, settings, 1, {});
    for (std::size_t i = 0; i < settings.size(); ++i) {
        replay::Recording recording(evening);
        EXPECT_FALSE(trials[i].given_up);
        EXPECT_EQ(mistakes(trials[i].score), mistakes(*replay::examine(recording, evening, settings[i], labels, {}).score));
    }
}

TEST(ManySettings, TellWhatIsWrongWithARecording) {
    const replay::LabelSet none{"none.rttm", {}};
    EXPECT_THROW(try_all({{"testdata/none.flac", {}, 1, 0, false}}, none, some_settings(), Until::the_end, 2, {}), std::runtime_error);
}

}  // namespace
}  // namespace tripline::tune
