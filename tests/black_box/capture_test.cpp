// What the station did, against a replay of what its black box wrote.
#include "config/load.h"
#include "daemon/black_box/black_box.h"
#include "daemon/black_box/folder.h"
#include "daemon/replay/event_line.h"
#include "daemon/replay/labels.h"
#include "daemon/replay/memory_file.h"
#include "daemon/replay/playback.h"
#include "daemon/station/engine.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <thread>

namespace tripline::black_box {
namespace {

namespace fs = std::filesystem;
using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr auto evening = "testdata/evening.flac";

class Kept final : public station::EventSink {
public:
    void take(const station::Event& event) noexcept override { events.push_back(event); }
    std::vector<station::Event> events;
};

/// The shipped recording goes through an engine, and by its side into a black box.
class ACapture : public testing::Test {
protected:
    /// `times` in succession, without a break. `scale` of the samples: 1 leaves them as a
    /// converter gives them.
    void live(BlackBox& box, float scale = 1, int times = 1) {
        for (int i = 0; i < times; ++i) {
            replay::Recording recording({.file = evening});
            if (!engine_) start(box, recording.rate());
            for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
                play(box, block, scale);
            }
        }
    }
    static Outcome outcome_of(BlackBox& box) {
        for (int i = 0; i < 3000; ++i) {
            if (auto outcome = box.next_outcome()) return *outcome;
            std::this_thread::sleep_for(10ms);
        }
        return {{}, "nothing happened for 30 s"};
    }
    Settings settings(Duration length) { return {length, folder_ / "captures", 1'000'000'000}; }

    /// As `tripline replay` writes them.
    static std::string replayed(const fs::path& sound) {
        const auto loaded = config::load(beside(sound, ".toml"));
        EXPECT_TRUE(loaded.good());
        replay::Recording recording({.file = sound});
        std::string lines;
        const Hertz rate = recording.rate();
        const auto memory = beside(sound, ".memory");
        replay::play(recording, loaded.settings.station,
                     {.event = [&](const auto& e) { lines += replay::event_line(e, rate) + '\n'; },
                      .progress = {},
                      .memory = fs::exists(memory) ? replay::read_memory(memory, rate) : std::vector<std::byte>{}});
        return lines;
    }
    static fs::path beside(fs::path sound, const char* extension) { return sound.replace_extension(extension); }

    void expect_the_last_to_replay_to_the_bit(Duration length);

    TemporaryFolder folder_;
    config::Settings in_force_;
    std::optional<station::Engine> engine_;

    void start(BlackBox& box, Hertz rate) {
        engine_.emplace(in_force_.station, rate);
        box.begin({.rate = rate, .at = {}, .hop = engine_->detector().hop(), .mode = station::Mode::armed, .memory = {}, .in_force = in_force_});
    }
    void play(BlackBox& box, const replay::Recording::Block& block, float scale) {
        std::vector<float> microphone(block.microphone.begin(), block.microphone.end());
        std::vector<Frame> frames;
        for (std::size_t i = 0; i < microphone.size(); ++i) {
            microphone[i] *= scale;
            frames.push_back({microphone[i], block.receiver[i]});
        }
        Kept kept;
        engine_->process({.microphone = microphone, .receiver = block.receiver}, kept);
        box.take(frames);
        for (const auto& event : kept.events) box.take(event);
    }
};

/// The recording twice over, of which the black box keeps the last part.
void ACapture::expect_the_last_to_replay_to_the_bit(Duration length) {
    SCOPED_TRACE(std::chrono::duration<double>(length).count());
    BlackBox box(settings(length));
    engine_.reset();
    live(box, 1, 2);
    ASSERT_TRUE(box.capture("false"));
    const Outcome outcome = outcome_of(box);
    ASSERT_EQ(outcome.failure, "");
    ASSERT_TRUE(fs::exists(beside(outcome.sound, ".memory")));
    EXPECT_EQ(replayed(outcome.sound), read_text(beside(outcome.sound, ".events.jsonl")));
    const std::string text = read_text(beside(outcome.sound, ".txt"));
    EXPECT_NE(text.find("every figure: all the same"), std::string::npos) << text;
}

TEST_F(ACapture, SinceTheEnginesStartReplaysToTheSameEventsToTheBit) {
    in_force_.station.detector.hold = 2s;   // not the shipped one: the settings have to come with it
    BlackBox box(settings(120s));
    live(box);
    ASSERT_TRUE(box.capture("missed"));
    const Outcome outcome = outcome_of(box);
    ASSERT_EQ(outcome.failure, "");
    EXPECT_EQ(outcome.sound.extension(), ".flac");
    EXPECT_NE(outcome.sound.filename().string().find("-missed"), std::string::npos);

    const std::string told = read_text(beside(outcome.sound, ".events.jsonl"));
    EXPECT_GT(told.size(), 1000U);
    EXPECT_EQ(replayed(outcome.sound), told);
    EXPECT_NE(read_text(beside(outcome.sound, ".txt")).find("every figure: all the same"), std::string::npos);
    EXPECT_FALSE(replay::read_labels(beside(outcome.sound, ".rttm")).empty());
}

TEST_F(ACapture, OfSamplesThat24BitsCannotHoldIsWrittenInFloatsAndReplaysTheSame) {
    BlackBox box(settings(120s));
    live(box, 0.9F);
    ASSERT_TRUE(box.capture("late"));
    const Outcome outcome = outcome_of(box);
    ASSERT_EQ(outcome.failure, "");
    EXPECT_EQ(outcome.sound.extension(), ".wav");
    EXPECT_EQ(replayed(outcome.sound), read_text(beside(outcome.sound, ".events.jsonl")));
}

TEST_F(ACapture, OfTheLastMinutesReplaysToTheSameEventsToTheBitFromItsBeginning) {
    for (const int seconds : {60, 47, 31}) expect_the_last_to_replay_to_the_bit(std::chrono::seconds(seconds));
}

TEST_F(ACapture, AfterTheOperatorsCommandsStillRemembersWhatTheStationDid) {
    BlackBox box(settings(40s));
    replay::Recording first({.file = evening});
    start(box, first.rate());
    for (const auto mode : {station::Mode::safe, station::Mode::armed, station::Mode::keyed, station::Mode::armed}) {
        engine_->set_mode(mode);
        for (int blocks = 0; blocks < 20; ++blocks) play(box, first.next(), 1);
    }
    live(box);
    ASSERT_TRUE(box.capture("late"));
    const Outcome outcome = outcome_of(box);
    ASSERT_EQ(outcome.failure, "");
    EXPECT_EQ(replayed(outcome.sound), read_text(beside(outcome.sound, ".events.jsonl")));
    EXPECT_NE(read_text(beside(outcome.sound, ".txt")).find("with what the station remembered"), std::string::npos);
}

TEST_F(ACapture, WithAnEchoModelReplaysToTheSameEventsToTheBitFromItsBeginning) {
    in_force_.station.detector.leak.method = dsp::AntiTrip::echo;
    for (const int seconds : {60, 37}) {
        expect_the_last_to_replay_to_the_bit(std::chrono::seconds(seconds));
        EXPECT_TRUE(engine_->detector().trust().sure) << "a model that has learnt something";
    }
}

TEST_F(ACapture, SoonAfterNewSettingsHasWhatWasKeptBeforeThemBesideIt) {
    BlackBox box(settings(80s));
    live(box);
    engine_.reset();
    in_force_.station.detector.hold = 2s;
    live(box);
    ASSERT_TRUE(box.capture("late"));
    const Outcome before = outcome_of(box);
    const Outcome now = outcome_of(box);
    EXPECT_NE(before.sound.string().find("late-earlier"), std::string::npos) << before.failure;
    EXPECT_EQ(now.sound.string().find("earlier"), std::string::npos) << now.failure;
    for (const fs::path& sound : {before.sound, now.sound})
        EXPECT_EQ(replayed(sound), read_text(beside(sound, ".events.jsonl")));
    live(box);   // as much as it keeps, under these settings
    ASSERT_TRUE(box.capture("late-again"));
    EXPECT_EQ(outcome_of(box).sound.string().find("earlier"), std::string::npos);
}

TEST_F(ACapture, AfterSettingsChangedAgainAndAgainHasEachStretchThatIsWithinItsLength) {
    BlackBox box(settings(130s));
    for (int i = 0; i < 3; ++i) {
        engine_.reset();
        live(box);
    }
    ASSERT_TRUE(box.capture("late"));
    for (const bool last : {false, false, true}) {
        const Outcome outcome = outcome_of(box);
        ASSERT_EQ(outcome.failure, "");
        EXPECT_EQ(outcome.last, last);
        EXPECT_EQ(replayed(outcome.sound), read_text(beside(outcome.sound, ".events.jsonl")));
    }
}

TEST_F(ACapture, IsMadeWhenTheLongestOverIsReached) {
    in_force_.station.limits.longest_over = 4s;
    BlackBox box(settings(120s));
    live(box);
    const Outcome outcome = outcome_of(box);
    EXPECT_EQ(outcome.failure, "");
    EXPECT_NE(outcome.sound.string().find("time-out"), std::string::npos);
}

TEST_F(ACapture, ThatCannotBeWrittenTellsWhy) {
    BlackBox nothing_yet(settings(10s));
    ASSERT_TRUE(nothing_yet.capture("false"));
    EXPECT_EQ(outcome_of(nothing_yet).failure, "no sound has been heard yet");

    BlackBox small({120s, folder_ / "captures", 1000});
    live(small);
    ASSERT_TRUE(small.capture("false"));
    EXPECT_EQ(outcome_of(small).failure, "the disk budget has no room for it");

    std::ofstream(folder_ / "file") << "x";
    BlackBox nowhere({120s, folder_ / "file", 1'000'000'000});
    engine_.reset();
    live(nowhere);
    ASSERT_TRUE(nowhere.capture("false"));
    EXPECT_EQ(outcome_of(nowhere).failure, (folder_ / "file") + ": Not a directory");
}

TEST_F(ACapture, HasItsFolderLookedAtBeforehand) {
    EXPECT_EQ(unfit(folder_ / "some/captures"), "");
    EXPECT_TRUE(std::filesystem::is_directory(folder_ / "some/captures"));
    std::ofstream(folder_ / "file") << "x";
    EXPECT_EQ(unfit(folder_ / "file"), (folder_ / "file") + ": Not a directory");
    EXPECT_NE(unfit(folder_ / "file/captures"), "");
}

TEST_F(ACapture, IsFinishedWhenTheDaemonStopsInTheMidstOfItButNotReplayed) {
    BlackBox box(settings(60s));
    live(box);
    ASSERT_TRUE(box.capture("asked-for"));
    EXPECT_TRUE(box.finish(20s));
    const auto outcome = box.next_outcome();
    ASSERT_TRUE(outcome);
    EXPECT_EQ(outcome->failure, "");
    std::ostringstream text;
    text << std::ifstream(beside(outcome->sound, ".txt")).rdbuf();
    EXPECT_NE(text.str().find("Not replayed: the daemon was about to stop"), std::string::npos) << text.str();
}

TEST_F(ACapture, ThatIsNotWrittenInTimeWhenTheDaemonStopsLeavesNothingBehind) {
    BlackBox box(settings(60s));
    live(box);
    ASSERT_TRUE(box.capture("asked-for"));
    ASSERT_TRUE(box.capture("asked-for"));
    EXPECT_TRUE(box.finish(0s));
    for (int i = 0; i < 2; ++i) {
        const auto outcome = box.next_outcome();
        ASSERT_TRUE(outcome);
        EXPECT_NE(outcome->failure.find("the daemon stopped before"), std::string::npos) << outcome->failure;
    }
    EXPECT_TRUE(fs::is_empty(folder_ / "captures"));
}

}  // namespace
}  // namespace tripline::black_box
