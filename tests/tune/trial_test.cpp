// Many settings at once give what each gives alone.
#include "daemon/tune/trial.h"

#include <gtest/gtest.h>

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
        const auto scores = try_all({evening}, labels, settings, workers, {});
        ASSERT_EQ(scores.size(), settings.size());
        for (std::size_t i = 0; i < settings.size(); ++i) {
            replay::Recording recording(evening);
            const auto alone = replay::examine(recording, evening, settings[i], labels, {});
            EXPECT_EQ(scores[i].missed, alone.score->missed);
            EXPECT_EQ(scores[i].onset, alone.score->onset);
            EXPECT_EQ(scores[i].lost, alone.score->lost);
            EXPECT_EQ(scores[i].tail, alone.score->tail);
        }
        EXPECT_GT(scores[1].missed, 0);
    }
}

TEST(ManySettings, TellWhatIsWrongWithARecording) {
    const replay::LabelSet none{"none.rttm", {}};
    EXPECT_THROW(try_all({{"testdata/none.flac", {}, 1, 0, false}}, none, some_settings(), 2, {}), std::runtime_error);
}

}  // namespace
}  // namespace tripline::tune
