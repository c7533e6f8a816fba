// `tripline prove` from the command line to the exit code.
#include "tests/cli/run.h"
#include "tests/prove/folder.h"

#include <gtest/gtest.h>

#include <filesystem>

namespace tripline::prove {
namespace {

class Prove : public testing::Test {
protected:
    Prove() {
        std::filesystem::copy_file("testdata/evening.flac", folder_ / "evening.flac");
        std::filesystem::copy_file("testdata/evening.rttm", folder_ / "evening.rttm");
    }
    static constexpr auto evening = "[evening]\nfile = 'evening.flac'\nlabels = 'evening.rttm'\n";

    cli::Outcome run(std::vector<std::string> more = {}) const {
        std::vector<std::string> words{"prove", folder_.path().string()};
        words.insert(words.end(), more.begin(), more.end());
        return cli::run(words);
    }
    Folder folder_;
};

TEST_F(Prove, PassesARecordingThatMeetsItsLimits) {
    folder_.write("prove.toml", evening);
    const auto outcome = run();
    EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
    EXPECT_NE(outcome.out.find("1 of 1 recordings met their limits"), std::string::npos) << outcome.out;
}

TEST_F(Prove, ExitsWithOneWhenALimitIsBrokenAndSaysWhich) {
    folder_.write("prove.toml", std::string(evening) + "max_onset_p50_ms = 0.001\n");
    const auto outcome = run({"--junit", folder_ / "out.xml"});
    EXPECT_EQ(outcome.code, 1);
    EXPECT_NE(outcome.out.find("evening: BROKEN: onset_p50_ms "), std::string::npos) << outcome.out;
    EXPECT_NE(folder_.read("out.xml").find("failures=\"1\" errors=\"0\""), std::string::npos);
}

TEST_F(Prove, FindsWhatASettingMadeWorse) {
    folder_.write("prove.toml", std::string(evening) + "max_missed = 3\n");
    const std::string baseline = folder_ / "baseline.json";
    EXPECT_EQ(run({"--write-baseline", baseline}).code, 0);
    const auto same = run({"--baseline", baseline});
    EXPECT_EQ(same.code, 0);
    EXPECT_NE(same.out.find("compared with " + baseline + ": nothing is worse or better\n"), std::string::npos) << same.out;
    const auto deaf = run({"--baseline", baseline, "--set", "gate.threshold=fixed", "--set", "gate.open_dbfs=-3"});
    EXPECT_EQ(deaf.code, 1);
    EXPECT_NE(deaf.out.find("evening: worse: missed 3, was 0"), std::string::npos) << deaf.out;
}

TEST_F(Prove, SaysOfAStationThatBeginsSafeThatNothingKeys) {
    folder_.write("prove.toml", evening);
    EXPECT_NE(run({"--set", "station.start_mode=safe"}).err.find("the station would begin safe"), std::string::npos);
    EXPECT_EQ(run().err.find("would begin safe"), std::string::npos);
}

TEST_F(Prove, NotesLabelsThatAreAllOnAnotherChannel) {
    folder_.write("prove.toml", evening);
    EXPECT_EQ(run().err.find("all labels"), std::string::npos);
    std::string labels = folder_.read("evening.rttm");
    for (std::size_t at = 0; (at = labels.find("evening 1 ", at)) != std::string::npos;) labels[at + 8] = '2';
    folder_.write("evening.rttm", labels);
    const auto elsewhere = run();
    EXPECT_EQ(elsewhere.code, 1) << "each transmission is a false one then";
    EXPECT_NE(elsewhere.err.find("evening.rttm: all labels of evening are on channel 2, none on channel 1, the microphone's"), std::string::npos) << elsewhere.err;
}

std::size_t times(const std::string& part, const std::string& text) {
    std::size_t count = 0;
    for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size()) ++count;
    return count;
}

TEST_F(Prove, NotesOnceWhatSeveralTablesHaveAndNamesThem) {
    folder_.write("prove.toml", std::string(evening) + "[loud]\nfile = 'evening.flac'\nlabels = 'evening.rttm'\n");
    std::string labels = folder_.read("evening.rttm");
    for (std::size_t at = 0; (at = labels.find("evening 1 ", at)) != std::string::npos;) labels[at + 8] = '2';
    folder_.write("evening.rttm", labels);
    const auto noted = run().err;
    EXPECT_EQ(times("all labels of evening", noted), 1U) << noted;
    EXPECT_NE(noted.find("note: [evening], [loud]: "), std::string::npos) << noted;
}

TEST_F(Prove, NotesChannelsThatLookSwapped) {
    folder_.write("prove.toml", std::string(evening) + "[turned]\nfile = 'evening.flac'\nlabels = 'swapped.rttm'\nmicrophone_channel = 2\nreceiver_channel = 1\n");
    std::string labels = folder_.read("evening.rttm");
    for (std::size_t at = 0; (at = labels.find("evening 1 ", at)) != std::string::npos;) labels[at + 8] = '2';
    folder_.write("swapped.rttm", labels);
    const auto outcome = run();
    EXPECT_EQ(outcome.code, 1) << outcome.out;
    EXPECT_NE(outcome.err.find("note: [turned]: what is taken for the microphone hears each sound before the receiver does: the channels look swapped"), std::string::npos) << outcome.err;
    EXPECT_EQ(times("look swapped", outcome.err), 1U) << outcome.err;
}

TEST_F(Prove, TakesAnOverThatWasTornForBroken) {
    folder_.write("prove.toml", evening);
    const auto torn = run({"--set", "gate.open_dbfs=-20"});
    EXPECT_EQ(torn.code, 1);
    EXPECT_NE(torn.out.find("evening: BROKEN: torn 3, limit 0"), std::string::npos) << torn.out;
}

TEST_F(Prove, JudgesTheOthersWhenOneRecordingCannotBeRead) {
    folder_.write("noise.wav", "CQ");
    folder_.write("prove.toml", std::string("[noise]\nfile = 'noise.wav'\nlabels = 'evening.rttm'\n") + evening);
    const auto outcome = run({"--junit", folder_ / "out.xml", "--write-baseline", folder_ / "baseline.json"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.out.find("noise.wav: is not readable as sound"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("1 of 2 recordings met"), std::string::npos) << outcome.out;
    EXPECT_NE(folder_.read("out.xml").find("errors=\"1\""), std::string::npos);
    EXPECT_FALSE(std::filesystem::exists(folder_ / "baseline.json"));
}

TEST_F(Prove, GivesTheSameTableWithAnyNumberOfJobs) {
    std::string text;
    for (const char* name : {"a", "b", "c", "d", "e"}) {
        folder_.silence(std::string(name) + ".wav", 1 + static_cast<int>(text.size() % 3));
        text += std::string("[") + name + "]\nfile = '" + name + ".wav'\nlabels = 'none.rttm'\n";
    }
    folder_.write("none.rttm", "");
    folder_.write("prove.toml", text + evening);
    const auto one = run({"--jobs", "1"});
    EXPECT_EQ(one.code, 0) << one.out << one.err;
    EXPECT_EQ(run({"--jobs", "3"}).out, one.out);
    EXPECT_EQ(run({"--jobs", "64"}).out, one.out);
}

TEST_F(Prove, RefusesAFolderWithoutASuite) {
    const auto outcome = run();
    EXPECT_EQ(outcome.code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_NE(outcome.err.find("prove.toml: "), std::string::npos) << outcome.err;
}

}  // namespace
}  // namespace tripline::prove
