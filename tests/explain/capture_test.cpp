// `tripline explain` of a recording that begins while the station was on the air, with what it remembered then.
#include "daemon/replay/memory_file.h"
#include "daemon/replay/recording.h"
#include "daemon/station/engine.h"
#include "daemon/station/memory.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>
#include <sndfile.hh>

#include <filesystem>
#include <fstream>

#include <unistd.h>

namespace tripline::explain {
namespace {

namespace fs = std::filesystem;
using std::chrono_literals::operator""s;

struct Deaf final : station::EventSink {
    void take(const station::Event&) noexcept override {}
};

/// The shipped evening from somewhat after 12 s on, when the station had been on the air since 11.3 s, as a capture of it.
class ACapture : public testing::Test {
protected:
    ACapture() {
        fs::create_directories(folder_);
        replay::Recording recording({.file = "testdata/evening.flac"});
        const Hertz rate = recording.rate();
        station::Engine engine({}, rate);
        Deaf deaf;
        auto block = recording.next();
        for (; engine.now() < to_frames(12s, rate); block = recording.next())
            engine.process({.microphone = block.microphone, .receiver = block.receiver}, deaf);
        std::ofstream(with(".memory")) << replay::memory_text(rate, station::memory_of(engine));
        std::ofstream(with(".toml")) << "limits.longest_over_s = 180\n";
        std::ofstream(with(".events.jsonl")).flush();
        SndfileHandle file(with(".wav"), SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 2, static_cast<int>(rate.value));
        for (; !block.microphone.empty(); block = recording.next()) {
            for (std::size_t i = 0; i < block.microphone.size(); ++i) {
                const float frame[] = {block.microphone[i], block.receiver[i]};
                file.writef(frame, 1);
            }
        }
    }
    ~ACapture() override { fs::remove_all(folder_); }

    std::string with(const char* extension) const { return (folder_ / "capture").string() + extension; }
    static void expect_part(const std::string& text, const std::string& part) { EXPECT_NE(text.find(part), std::string::npos) << part << "\nis not in\n" << text; }

    fs::path folder_ = fs::temp_directory_path() / ("tripline-capture-" + std::to_string(::getpid()));
};

TEST_F(ACapture, ThatBeginsOnTheAirIsExplainedWithTheMemoryThatLiesBesideIt) {
    const auto outcome = cli::run({"explain", with(".wav")});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    expect_part(outcome.out, "With what lies beside it: " + with(".toml") + ", " + with(".memory"));
    expect_part(outcome.out, "3 transmissions in ");
    expect_part(outcome.out, "Keyed from before the recording to 7.");
    expect_part(cli::run({"replay", with(".wav"), "--memory", with(".memory")}).out, "on the air when the recording begins");
}

TEST_F(ACapture, IsExplainedWithoutItsMemoryWhereAnotherMethodIsTriedAndSaysSo) {
    const auto outcome = cli::run({"explain", with(".wav"), "--set", "anti_trip.method=echo"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    expect_part(outcome.out, "What the station remembered does not go with these settings: this is without it");
    const auto named = cli::run({"explain", with(".wav"), "--memory", with(".memory"), "--set", "anti_trip.method=echo"});
    EXPECT_EQ(named.code, 2) << "a memory that was asked for is not left out";
}

TEST_F(ACapture, IsNotWaitedForWhereItsMemoryIsNoRegularFile) {
    expect_part(cli::run({"explain", with(".wav"), "--memory", "/dev/zero"}).err, "/dev/zero: can't be read: it is not a regular file");
}

TEST_F(ACapture, OfASafeStationIsReplayedArmedWhereThatIsSet) {
    replay::Recording recording({.file = "testdata/evening.flac"});
    station::Settings settings;
    settings.start_mode = station::Mode::safe;
    station::Engine safe(settings, recording.rate());
    std::ofstream(with(".memory")) << replay::memory_text(recording.rate(), station::memory_of(safe));
    const std::vector<std::string> words{"explain", "testdata/evening.flac", "12", "--memory", with(".memory"), "--set"};
    const auto with_mode = [&](const std::string& mode) {
        auto all = words;
        all.push_back("station.start_mode=" + mode);
        return cli::run(all).out;
    };
    expect_part(with_mode("safe"), "With --set station.start_mode=armed this command tells what it would have done then.");
    expect_part(with_mode("armed"), "At 12.000 s: keyed, from 11.");
}

TEST_F(ACapture, OffersTheEchoMethodOnlyWithoutAMemory) {
    expect_part(cli::run({"explain", with(".wav"), "18"}).out, "anti_trip.method         \"echo\" cannot be tried with --memory");
}

}  // namespace
}  // namespace tripline::explain
