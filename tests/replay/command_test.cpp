// `tripline replay` from the command line to the exit code.
#include "tests/cli/run.h"

#include <gtest/gtest.h>
#include <sndfile.hh>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <unistd.h>

namespace tripline::cli {
namespace {

namespace fs = std::filesystem;

constexpr auto evening = "testdata/evening.flac";
constexpr auto evening_labels = "testdata/evening.rttm";

class Replay : public testing::Test {
protected:
    Replay() { fs::create_directories(folder_); }
    ~Replay() override { fs::remove_all(folder_); }

    static Outcome run(std::vector<std::string> words) {
        words.insert(words.begin(), "replay");
        return cli::run(words);
    }

    static void expect_refused(const std::vector<std::string>& words, const std::string& file,
                               const std::string& reason) {
        const Outcome outcome = run(words);
        EXPECT_EQ(outcome.code, 2);
        EXPECT_EQ(outcome.out, "");
        EXPECT_NE(outcome.err.find(file), std::string::npos) << outcome.err;
        EXPECT_NE(outcome.err.find(reason), std::string::npos) << outcome.err;
    }

    std::string path(const std::string& name) const { return (folder_ / name).string(); }

    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(path(name)) << text;
        return path(name);
    }

    /// A second of silence.
    std::string silence(const std::string& name, int channels, int rate = 8000) const {
        SndfileHandle file(path(name), SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, channels, rate);
        const std::vector<float> samples(static_cast<std::size_t>(rate * channels));
        file.writef(samples.data(), rate);
        return path(name);
    }

    static std::string read(const std::string& name) {
        std::ostringstream text;
        text << std::ifstream(name).rdbuf();
        return text.str();
    }

private:
    fs::path folder_ = fs::temp_directory_path() / ("tripline-replay-" + std::to_string(::getpid()));
};

TEST_F(Replay, HearsNoReceiverWhereTheStationHasNone) {
    const auto said = run({evening, "--no-receiver"});
    const auto set = run({evening, "--set", "audio.receiver_channel=0"});
    EXPECT_EQ(set.out, said.out);
    EXPECT_NE(set.out, run({evening}).out);
}

TEST_F(Replay, NotesThatAllLabelsAreOnAnotherChannel) {
    const std::string far = write("far.rttm", "SPEAKER evening 2 2.04 2.265 <NA> <NA> far <NA> <NA>\nSPEAKER evening 3 4.5 1 <NA> <NA> far <NA> <NA>\n");
    const std::string wanted = far + ": all labels of evening are on channel 2 and 3, none on channel 1, the microphone's (--microphone-channel; for prove microphone_channel in prove.toml): nobody counts as speaking\n";
    EXPECT_NE(run({evening, "--labels", far}).err.find("note: " + wanted), std::string::npos) << run({evening, "--labels", far}).err;
    EXPECT_EQ(run({evening, "--labels", evening_labels}).err.find("note: "), std::string::npos);
    EXPECT_EQ(run({evening, "--labels", write("none.rttm", "")}).err.find("note: "), std::string::npos) << "nobody spoke, and that was said";
}

TEST_F(Replay, ExitsWithOneWhenALimitIsNotMet) {
    const Outcome outcome =
        run({evening, "--labels", evening_labels, "--max-onset-p50-ms", "0.001", "--report", "json"});
    EXPECT_EQ(outcome.code, 1);
    EXPECT_NE(outcome.out.find("\"met\": false"), std::string::npos);
}

TEST_F(Replay, DrawsAPictureWithoutChangingTheReport) {
    const Outcome plain = run({evening, "--labels", evening_labels});
    const Outcome drawn = run({evening, "--labels", evening_labels, "--plot", path("out.svg")});
    EXPECT_EQ(drawn.code, 0) << drawn.err;
    EXPECT_EQ(drawn.out, plain.out);
    EXPECT_EQ(read(path("out.svg")).rfind("<svg ", 0), 0U);
    expect_refused({evening, evening, "--plot", path("out.svg")}, "--plot", "one FILE only");
    expect_refused({evening, "--plot", path("no/such/folder")}, "no/such/folder", "cannot be written");
}

TEST_F(Replay, DrawsAPageThatFetchesNothing) {
    const Outcome drawn = run({evening, "--labels", evening_labels, "--plot", path("out.html")});
    EXPECT_EQ(drawn.code, 0) << drawn.err;
    const std::string page = read(path("out.html"));
    EXPECT_EQ(page.rfind("<!DOCTYPE html>", 0), 0U);
    EXPECT_EQ(page.find("://"), std::string::npos);
    EXPECT_EQ(page.find("src="), std::string::npos);
    EXPECT_NE(page.find("default-src 'none'"), std::string::npos);
    EXPECT_NE(page.find("\"labels\":[[11.225,15.885]"), std::string::npos);
}

TEST_F(Replay, DrawsNothingUnderANameThatPromisesSomethingElse) {
    const Outcome refused = run({evening, "--plot", path("out.png")});
    EXPECT_EQ(refused.code, 2);
    EXPECT_NE(refused.err.find("a picture ends in .svg, a page to zoom in ends in .html"), std::string::npos) << refused.err;
    EXPECT_FALSE(std::filesystem::exists(path("out.png")));
}

TEST_F(Replay, TakesSettingsFromTheCommandLine) {
    const Outcome outcome = run({evening, "--labels", evening_labels, "--set", "gate.threshold=fixed",
                                 "--set", "gate.open_dbfs=-3"});
    EXPECT_EQ(outcome.code, 1);
    EXPECT_NE(outcome.out.find("3 overs, 3 missed"), std::string::npos) << outcome.out;
}

TEST_F(Replay, SaysOfAStationThatBeginsSafeThatNothingKeys) {
    const Outcome outcome = run({evening, "--set", "station.start_mode=safe"});
    EXPECT_NE(outcome.out.find("keyed 0 times"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.err.find("station.start_mode = \"safe\": the station would begin safe"), std::string::npos) << outcome.err;
    EXPECT_EQ(run({evening}).err, "");
}

TEST_F(Replay, FailsWhenOversAreCaughtButTorn) {
    const Outcome high = run({evening, "--labels", evening_labels, "--set", "gate.open_dbfs=-20"});
    EXPECT_EQ(high.code, 1);
    EXPECT_NE(high.out.find("3 overs, 0 missed, 3 torn, 0 false keys"), std::string::npos) << high.out;
    EXPECT_EQ(run({evening, "--labels", evening_labels, "--set", "gate.open_dbfs=-20", "--max-torn", "3"}).code, 0);
    const Outcome deaf = run({evening, "--labels", evening_labels, "--no-receiver"});
    EXPECT_EQ(deaf.code, 1) << deaf.out;
}

TEST_F(Replay, ReportsEachFileAndTheTotal) {
    const std::string a = silence("a.wav", 2);
    const std::string b = silence("b.wav", 2);
    const Outcome outcome = run({a, b, "--labels", write("none.rttm", ""), "--report", "json"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_NE(outcome.out.find(a), std::string::npos);
    EXPECT_NE(outcome.out.find(b), std::string::npos);
    EXPECT_NE(outcome.out.find("\"seconds\": 2.0"), std::string::npos) << outcome.out;
}

TEST_F(Replay, RefusesBadInputNamingFileAndReason) {
    const std::string mono = silence("mono.wav", 1);
    const std::string stereo = silence("stereo.wav", 2);
    expect_refused({"none.wav"}, "none.wav", "there is no such file");
    expect_refused({write("empty.wav", "")}, "empty.wav", "is empty");
    expect_refused({write("text.wav", "CQ")}, "text.wav", "is not readable as sound");
    expect_refused({mono}, "mono.wav", "has one channel");
    expect_refused({silence("hertz.wav", 2, 1)}, "hertz.wav", "1 Hz is outside");
    expect_refused({silence("megahertz.wav", 2, 1000000)}, "megahertz.wav", "1000000 Hz is outside");
    expect_refused({mono, "--monitor", silence("fast.wav", 1, 16000)}, "fast.wav", "16000 Hz, not 8000 Hz");
    expect_refused({stereo, "--labels", "none.rttm"}, "none.rttm", "can't be read: No such file or directory");
    expect_refused({stereo, "--labels", write("bad.rttm", "SPEAKER\n")}, "bad.rttm:1", "10 fields");
    expect_refused({stereo, "--labels", evening_labels}, "evening.rttm", "has no label for stereo");
    expect_refused({stereo, "--labels", write("late.rttm", "SPEAKER stereo 1 5 1 <NA> <NA> n <NA> <NA>\n")},
                   "late.rttm", "after the recording");
    expect_refused({stereo, "--events", path("no/such/folder")}, "no/such/folder", "cannot be written");
}

TEST_F(Replay, RefusesOptionsThatContradictEachOther) {
    const std::string a = silence("a.wav", 2);
    EXPECT_EQ(run({}).code, 2);
    EXPECT_EQ(run({a, a, "--monitor", a}).code, 2);
    EXPECT_EQ(run({a, a, "--events", path("e")}).code, 2);
    EXPECT_EQ(run({a, "--max-missed", "1"}).code, 2);
    EXPECT_EQ(run({a, "--no-receiver", "--monitor", a}).code, 2);
    EXPECT_EQ(run({a, "--set", "gate.nonsense=1"}).code, 2);
    EXPECT_EQ(run({a, "--report", "xml"}).code, 2);
}

}  // namespace
}  // namespace tripline::cli
