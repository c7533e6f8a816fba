// A remedy against a sound whose level is known.
#include "daemon/explain/remedy.h"

#include "config/keys.h"

#include "daemon/explain/levels.h"
#include "daemon/explain/silence.h"

#include <gtest/gtest.h>

#include <sndfile.hh>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <vector>

#include <unistd.h>

namespace tripline::explain {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr int rate = 16000;
constexpr double pitch_hz = 125;
constexpr int harmonics = 24;   // up to 3000 Hz

/// A second of a sound with a voice's pitch from 2 s on, in 4 s of silence. The phases of its
/// harmonics grow with the square of their number (Schroeder 1970), so that its power is even.
class ACall : public testing::Test {
protected:
    ACall() {
        std::vector<float> samples(std::size_t{2} * 4 * rate);
        for (int i = 2 * rate; i < 3 * rate; ++i) {
            const double swell = std::min(1.0, (i - 2.0 * rate) / (0.03 * rate));
            double sum = 0;
            for (int k = 3; k <= harmonics; ++k) sum += std::cos(std::numbers::pi * k * (2 * pitch_hz * i / rate + k / 22.0));
            samples[static_cast<std::size_t>(2 * i)] = static_cast<float>(0.002 * swell * sum);
        }
        SndfileHandle file(path_.string(), SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 2, rate);
        file.writef(samples.data(), 4 * rate);
        settings_.station.detector.gate.threshold = dsp::Threshold::fixed;
    }
    ~ACall() override { std::filesystem::remove(path_); }

    Account account() {
        return account_of({source_, settings_}, {1500ms, 2500ms}, {});
    }

    std::filesystem::path path_ =
        std::filesystem::temp_directory_path() / ("tripline-explain-" + std::to_string(::getpid()) + ".wav");
    replay::RecordingSource source_{.file = path_};
    config::Settings settings_;
};

TEST_F(ACall, TooQuietIsKeyedByAThresholdLowerByTheMarginThatIsTold) {
    settings_.station.detector.gate.open = Dbfs{-20};
    const auto told = account();
    ASSERT_TRUE(told.spells.empty());
    const auto around = surroundings(told, {2s});
    const Hop* nearest = nearest_to_keying(told, around);
    ASSERT_NE(nearest, nullptr);
    const double missing = -static_cast<double>(margin_db(nearest->heard.measures));
    ASSERT_GT(missing, 5);

    const auto wish = [](const std::vector<replay::Spell>& spells) { return !spells.empty(); };
    const auto found = remedies({source_, settings_}, {{"gate.open_dbfs", false}}, 3s, wish);
    ASSERT_EQ(found.size(), 1U);
    EXPECT_TRUE(found[0].helps);
    EXPECT_EQ(found[0].before, -20);
    EXPECT_EQ(found[0].transmissions, 1U);
    EXPECT_NEAR(found[0].after, -20 - missing, 2);

    settings_.station.detector.gate.open = Dbfs{found[0].after};
    EXPECT_EQ(account().spells.size(), 1U);
    settings_.station.detector.gate.open = Dbfs{found[0].after + 0.5};
    EXPECT_TRUE(account().spells.empty());
}

TEST_F(ACall, IsNotAskedWhyItWasNotKeyedAtTheVeryMomentItWas) {
    const auto told = account();
    ASSERT_FALSE(told.spells.empty());
    const auto around = surroundings(told, {told.spells[0].decided - 100ms});
    EXPECT_EQ(around.end, told.spells[0].decided);
    const Hop* nearest = nearest_to_keying(told, around);
    ASSERT_NE(nearest, nullptr);
    EXPECT_LT(nearest->at, told.spells[0].decided);
    EXPECT_EQ(silence_in_words(told, around, {around.end}, settings_.station).find("voice 1 ms"), std::string::npos);
}

TEST_F(ACall, IsNotKeyedByASettingThatHasNothingToDoWithIt) {
    settings_.station.detector.gate.open = Dbfs{-20};
    const auto wish = [](const std::vector<replay::Spell>& spells) { return !spells.empty(); };
    const auto found = remedies({source_, settings_}, {{"anti_trip.coupling_db", false}}, 3s, wish);
    ASSERT_EQ(found.size(), 1U);
    EXPECT_FALSE(found[0].helps);
    EXPECT_NE(in_words(found[0], 0).find("anti_trip.coupling_db"), std::string::npos);
    EXPECT_NE(in_words(found[0], 0).find("no value down to -60 helps"), std::string::npos);
}

TEST(AThresholdHeldUpByOtherSounds, IsSoughtToBeLoweredByTheVoicesExpectedPeaks) {
    const auto asks = [](Dbfs threshold, dsp::Threshold kind) {
        config::Settings settings;
        settings.station.detector.gate.threshold = kind;
        Hop hop;
        hop.heard.measures.floor = to_power(Dbfs{-70});
        hop.heard.measures.threshold = to_power(threshold);
        return std::ranges::count(knobs_to_key(hop, settings), "gate.voice_peak_dbfs", &Knob::key);
    };
    EXPECT_EQ(asks(Dbfs{-30}, dsp::Threshold::floating), 1);
    EXPECT_EQ(asks(dsp::GateSettings{}.open, dsp::Threshold::floating), 0);
    EXPECT_EQ(asks(Dbfs{-70 + dsp::GateSettings{}.above_floor.value}, dsp::Threshold::floating), 0);
    EXPECT_EQ(asks(Dbfs{-30}, dsp::Threshold::fixed), 0);
}

TEST(TheLevels, SayOfASilentReceiverThatItIsSilent) {
    dsp::Measures measures;
    measures.leak = to_power(Dbfs{-88});
    EXPECT_NE(levels_in_words(measures, {}).find("the receiver, silent by now, could still be -88.0 dBFS of it"), std::string::npos);
    measures.receiver = to_power(Dbfs{-60});
    EXPECT_NE(levels_in_words(measures, {}).find("the receiver, at -60.0 dBFS, could be -88.0 dBFS of it"), std::string::npos);
}

TEST(ARemedy, IsToldWithTheWayItWasSoughtAndWhatItDoesToTheCount) {
    const config::Key& key = *config::find_key("gate.open_dbfs");
    EXPECT_EQ(in_words({.key = &key, .before = -50, .after = -90}, 1), "  gate.open_dbfs           no value down to -90 helps\n");
    EXPECT_EQ(in_words({.key = &key, .before = -50, .after = -3}, 1), "  gate.open_dbfs           no value up to -3 helps\n");
    Remedy found{.key = &key, .before = -50, .after = -52, .helps = true, .transmissions = 1};
    EXPECT_EQ(in_words(found, 1), "  gate.open_dbfs           -52 instead of -50 (-2 dB); transmissions so far: 1, as it is\n");
    EXPECT_EQ(in_words(found, 2), "  gate.open_dbfs           -52 instead of -50 (-2 dB); transmissions so far: 1, not 2\n");
}

}  // namespace
}  // namespace tripline::explain
