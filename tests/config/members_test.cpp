// Counts the members of the settings structs, so that none is left without a key.
#include "config/keys.h"

#include <gtest/gtest.h>

#include <utility>

namespace tripline::config {
namespace {

/// Converts to whatever a member is; never run.
struct Anything {
    template <class T>
    operator T() const;  // NOLINT: the conversion is the point
};

template <class T, std::size_t... I>
constexpr bool takes(std::index_sequence<I...>) {
    return requires { T{(static_cast<void>(I), Anything{})...}; };
}

/// Members of an aggregate of at most 32.
template <class T, std::size_t N = 32>
constexpr std::size_t members() {
    if constexpr (takes<T>(std::make_index_sequence<N>{})) {
        return N;
    } else {
        return members<T, N - 1>();
    }
}

std::size_t keys_in(std::string_view table) {
    std::size_t count = 0;
    for (const auto& key : all_keys()) count += table_of(key.path) == table ? 1 : 0;
    return count;
}

TEST(EverySetting, OfTheDetectorHasAKey) {
    EXPECT_EQ(keys_in("voice_band"), members<dsp::VoiceBandSettings>());
    EXPECT_EQ(keys_in("envelope"), members<dsp::EnvelopeSettings>());
    EXPECT_EQ(keys_in("anti_trip"), members<dsp::LeakSettings>());
    EXPECT_EQ(keys_in("blanking"), members<dsp::BlankingSettings>());
    const auto hold = members<dsp::DetectorSettings>() - 6;  // less the five structs with keys and the evidence
    constexpr std::size_t of_the_evidence = 1;  // voice_peak_dbfs: what an operator can measure of it
    EXPECT_EQ(keys_in("gate"), members<dsp::GateSettings>() + hold + of_the_evidence);
}

TEST(EverySetting, OfTheStationHasAKey) {
    EXPECT_EQ(keys_in("limits"), members<station::LimitSettings>());
    EXPECT_EQ(keys_in("transmit_audio"), members<station::TransmitAudioSettings>());
    const auto own = members<station::Settings>() - 4;  // less detector and the structs here
    EXPECT_EQ(keys_in("station") + keys_in("loudspeaker"), own);
}

TEST(EverySetting, OfTheLinesHasAKey) {
    const auto wire = members<lines::LineSettings>() - 2;  // three members are one key, pin
    const auto times = members<station::StepSettings>();
    const auto settle = members<station::SequenceSettings>() - 3;  // less the three steps
    EXPECT_EQ(keys_in("line.ptt"), wire + times);
    EXPECT_EQ(keys_in("line.mute"), wire + times);
    EXPECT_EQ(keys_in("line.antenna"), wire + times + settle);
    EXPECT_EQ(keys_in("line.alive") + keys_in("guard"), wire + members<guard::Settings>());
}

TEST(EverySetting, OfTheServiceHasAKey) {
    EXPECT_EQ(keys_in("audio"), members<audio::Settings>());
    EXPECT_EQ(keys_in("log"), members<LogSettings>());
    EXPECT_EQ(keys_in("control"), members<control::Settings>());
    EXPECT_EQ(keys_in("logbook"), members<logbook::Settings>());
    EXPECT_EQ(keys_in("web"), members<web::Settings>());
}

}  // namespace
}  // namespace tripline::config
