#include "daemon/replay/labels.h"
#include "tests/scene/scene.h"
#include "tests/scene/scene_file.h"
#include "tests/temporary_folder.h"

#include "dsp/speech_level.h"

#include <gtest/gtest.h>

#include <numbers>

namespace tripline::scene {
namespace {

constexpr Hertz rate{16000};

std::vector<float> sine_bursts(double on_s, double off_s, int count) {
    std::vector<float> samples;
    for (int n = 0; n < count; ++n) {
        for (int i = 0; i < static_cast<int>(on_s * rate.value); ++i) {
            samples.push_back(static_cast<float>(
                0.1 * std::sin(2 * std::numbers::pi * 1000 * i / rate.value)));
        }
        samples.insert(samples.end(), static_cast<std::size_t>(off_s * rate.value), 0.0F);
    }
    return samples;
}

TEST(TheLabels, FillGapsOfUpTo200MsAndKeepLongerOnes) {
    const auto close = sine_bursts(0.3, 0.2, 3);
    EXPECT_EQ(find_spurts(close, rate, Dbfs{-20}).size(), 1U);
    const auto wide = sine_bursts(0.3, 0.21, 3);
    const auto spurts = find_spurts(wide, rate, Dbfs{-20});
    ASSERT_EQ(spurts.size(), 3U);
    EXPECT_EQ(spurts[1], (Spurt{510ms, 810ms}));
}

TEST(TheLabels, ThrowAwaySpurtsOfUpTo15Ms) {
    EXPECT_TRUE(find_spurts(sine_bursts(0.015, 1, 1), rate, Dbfs{-20}).empty());
    EXPECT_EQ(find_spurts(sine_bursts(0.020, 1, 1), rate, Dbfs{-20}).size(), 1U);
}

TEST(TheLabels, CountFramesDownTo22DbUnderTheActiveLevel) {
    const auto burst = sine_bursts(0.1, 0.1, 1);   // -20 dBFS
    EXPECT_EQ(find_spurts(burst, rate, Dbfs{1.9}).size(), 1U);
    EXPECT_TRUE(find_spurts(burst, rate, Dbfs{2.1}).empty());
}

double level_dbfs(const std::vector<float>& samples) {
    double energy = 0;
    for (const double s : samples) energy += 2 * s * s;
    return 10 * std::log10(energy / static_cast<double>(samples.size()));
}

class AScene : public testing::Test {
protected:
    static SceneSettings settings() {
        SceneSettings settings;
        settings.seed = 7;
        settings.script.length = 60s;
        return settings;
    }
    Corpus corpus{rate};
};

TEST_F(AScene, IsTheSameForTheSameSeedAndAnotherForAnother) {
    SceneSettings other = settings();
    other.seed = 8;
    Scene a(settings(), corpus);
    Scene b(settings(), corpus);
    Scene c(other, corpus);
    bool differs = false;
    for (int i = 0; i < 200000; ++i) {
        const Sample sample = a.next(false);
        ASSERT_EQ(sample.microphone, b.next(false).microphone) << "frame " << i;
        differs |= sample.microphone != c.next(false).microphone;
    }
    EXPECT_TRUE(differs);
}

TEST_F(AScene, LetsOnlyOneSpeakAtATime) {
    const Scene scene(settings(), corpus);
    const auto near = spurts_of(scene.script().near, rate);
    const auto far = spurts_of(scene.script().far, rate);
    ASSERT_GT(near.size(), 2U);
    ASSERT_GT(far.size(), 2U);
    for (const Spurt& n : near) {
        for (const Spurt& f : far) EXPECT_TRUE(n.end <= f.onset || f.end <= n.onset);
    }
}

TEST_F(AScene, HoldsTheReceiverAndItsLeakSilentWhileKeyed) {
    SceneSettings quiet = settings();
    quiet.script.near_speaks = false;
    quiet.room = Decibels{-100};
    Scene scene(quiet, corpus);
    for (int i = 0; i < 16000; ++i) scene.next(true);
    for (int i = 0; i < 16000; ++i) {
        const Sample sample = scene.next(true);
        ASSERT_EQ(sample.receiver, 0.0F);
        ASSERT_LT(std::abs(sample.microphone), 1e-5F);
    }
}

TEST_F(AScene, PutsTheLeakAtTheSetRatioToTheVoice) {
    SceneSettings quiet = settings();
    quiet.script.near_speaks = false;
    quiet.script.far_level = Dbfs{-20};
    quiet.room = Decibels{-100};
    Scene scene(quiet, corpus);
    std::vector<float> microphone;
    std::vector<float> receiver;
    while (microphone.size() < static_cast<std::size_t>(scene.length().count)) {
        const Sample sample = scene.next(false);
        microphone.push_back(sample.microphone);
        receiver.push_back(sample.receiver);
    }
    // Voice -26, leak -12 to it, far speech at -20: the path loses 18 dB.
    EXPECT_NEAR(level_dbfs(receiver) - level_dbfs(microphone), 18, 0.05);
}

TEST_F(AScene, PutsEveryNoiseAtTheSetLevelInTheVoiceBand) {
    for (const char* name : {"pink", "keyboard", "footsteps", "crowd", "talkers"}) {
        const float gain = gain_for(name, corpus, 3, Dbfs{-41});
        const auto source = make_source(name, corpus, 3);
        BandPass band(Hertz{300}, Hertz{3000}, rate);
        dsp::SpeechLevel meter(rate);
        for (int i = 0; i < 60 * static_cast<int>(rate.value); ++i) {
            meter.push(static_cast<float>(band(gain * source->next())));
        }
        // P.56 interpolates between 6 dB steps: scaling a signal moves its reading a little.
        EXPECT_NEAR(meter.active().value, -41, 1.0) << name;
    }
}

TEST_F(AScene, LabelsSpeechThatItsEndCutsOffUpToThere) {
    const TemporaryFolder folder;
    std::size_t cut = 0;
    for (unsigned seed = 4; seed <= 7; ++seed) {
        auto minute = settings();
        minute.seed = seed;
        Scene scene(minute, corpus);
        const std::string stem = folder / std::to_string(seed);
        write_files({.path = stem}, scene, rate);
        for (const auto& label : replay::read_labels(stem + ".rttm")) {
            EXPECT_LE(label.onset + label.length, 60s) << "seed " << seed;
            if (label.onset + label.length > 60s - 2ms) ++cut;
        }
    }
    EXPECT_GT(cut, 0U);
}

}  // namespace
}  // namespace tripline::scene
