// The estimate of how other thresholds would have keyed, held against the station itself.
#include "daemon/web/rehearsal.h"

#include "daemon/audio/level_tap.h"
#include "daemon/replay/recording.h"

#include <gtest/gtest.h>

#include <numeric>

namespace tripline::web {
namespace {

using std::chrono_literals::operator""ms;

struct Nobody final : station::EventSink {
    void take(const station::Event&) noexcept override {}
};

/// What a station with these settings makes of the shipped evening.
std::vector<audio::LevelFrame> evening(const station::Settings& settings, Hertz& rate) {
    replay::Recording recording({.file = "testdata/evening.flac", .monitor = {}});
    rate = recording.rate();
    station::Engine engine(settings, rate);
    audio::LevelTap tap(rate);
    Nobody nobody;
    std::vector<audio::LevelFrame> frames;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        for (std::size_t at = 0; at < block.microphone.size(); at += 480) {
            const auto length = std::min<std::size_t>(480, block.microphone.size() - at);
            station::Block part;
            part.microphone = block.microphone.subspan(at, length);
            part.receiver = block.receiver.subspan(at, length);
            engine.process(part, nobody);
            if (audio::LevelFrame frame; tap.look(engine, frame)) frames.push_back(frame);
        }
    }
    return frames;
}

bool within(const std::vector<std::pair<Frames, Frames>>& spells, Frames at) {
    return std::ranges::any_of(spells, [&](const auto& spell) { return at >= spell.first && at <= spell.second; });
}

/// Share of the frames in which the estimate and the station agree.
double agreement(const std::vector<audio::LevelFrame>& frames, const std::vector<std::pair<Frames, Frames>>& spells) {
    const auto agree = std::ranges::count_if(frames, [&](const auto& frame) { return within(spells, frame.at) == frame.key; });
    return static_cast<double>(agree) / static_cast<double>(frames.size());
}

TEST(TheRehearsal, OfTheSameSettingsAgreesWithTheStation) {
    station::Settings settings;
    Hertz rate;
    const auto frames = evening(settings, rate);
    const auto& detector = settings.detector;
    const auto spells = rehearse(frames, {detector.gate, detector.gate, detector.hold}, rate);
    RecordProperty("agreement", std::to_string(agreement(frames, spells)));
    std::printf("agreement %.3f, %zu spells\n", agreement(frames, spells), spells.size());
    EXPECT_GT(agreement(frames, spells), 0.95);
}

TEST(TheRehearsal, OfAHigherOpeningLevelAgreesWithAStationThatHasIt) {
    station::Settings before, after;
    after.detector.gate.open = Dbfs{-30};
    Hertz rate;
    const auto frames = evening(before, rate);
    const auto truth = evening(after, rate);
    const auto spells = rehearse(frames, {before.detector.gate, after.detector.gate, before.detector.hold}, rate);
    std::printf("agreement %.3f, %zu spells\n", agreement(truth, spells), spells.size());
    EXPECT_GT(agreement(truth, spells), 0.9);
}

TEST(TheRehearsal, OfAThresholdAboveEverythingKeysNever) {
    station::Settings settings;
    Hertz rate;
    const auto frames = evening(settings, rate);
    Trial trial{settings.detector.gate, settings.detector.gate, settings.detector.hold};
    trial.now.open = Dbfs{20};
    EXPECT_TRUE(rehearse(frames, trial, rate).empty());
    EXPECT_TRUE(rehearse({}, trial, rate).empty());
}

}  // namespace
}  // namespace tripline::web
