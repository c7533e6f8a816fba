// `tripline explain` of a loudspeaker louder than the voice.
#include "tests/cli/run.h"
#include "tests/scene/scene_file.h"

#include <gtest/gtest.h>

#include <filesystem>

#include <unistd.h>

namespace tripline::explain {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Hertz rate{16000};

/// 9 dB over the operator's voice, whose second over begins at 29.2 s.
class ALoudspeaker : public testing::Test {
protected:
    ALoudspeaker() {
        scene::SceneSettings settings;
        settings.seed = 5;
        settings.script.length = 60s;
        settings.script.near_level = settings.script.far_level = Dbfs{-26};
        settings.script.near_answers.most = 500ms;
        settings.leak = Decibels{9};
        settings.path.delay = 5ms;
        settings.room = Decibels{-30};
        settings.radio.open_band = Decibels{-6};
        scene::Corpus corpus(rate);
        scene::Scene scene(settings, corpus);
        scene::write_files({.path = path_}, scene, rate);
    }
    ~ALoudspeaker() override {
        for (const char* end : {".wav", ".rttm"}) std::filesystem::remove(path_ + end);
    }

    std::string path_ = (std::filesystem::temp_directory_path() / ("tripline-loudspeaker-" + std::to_string(::getpid()))).string();
};

TEST_F(ALoudspeaker, ThatMasksTheVoiceIsCuredByTheEchoMethodAndExplainSaysSo) {
    const auto outcome = cli::run({"explain", path_ + ".wav", "29.5"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("At 29.500 s: not keyed"), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("too quiet"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("  anti_trip.method         \"echo\" would have; transmissions so far: "), std::string::npos) << outcome.out;
}

}  // namespace
}  // namespace tripline::explain
