// The file that says what has to hold.
#include "daemon/prove/item_keys.h"
#include "daemon/prove/suite.h"
#include "tests/prove/folder.h"

#include <gtest/gtest.h>

namespace tripline::prove {
namespace {

class TheSuite : public testing::Test {
protected:
    Suite read(const std::string& text) {
        folder_.write(suite_file, text);
        return read_suite(folder_.path(), {}, {});
    }
    /// The problems, without the folder, one a line.
    std::string problems(const std::string& text) {
        std::string all;
        for (const auto& problem : read(text).problems) all += to_string(problem) + '\n';
        const std::string where = folder_.path().string() + "/";
        for (auto at = all.find(where); at != std::string::npos; at = all.find(where)) all.erase(at, where.size());
        return all;
    }
    Folder folder_;
};

TEST_F(TheSuite, ReadsRecordingsInTheOrderOfTheFile) {
    folder_.silence("late.wav");
    folder_.silence("early.wav");
    folder_.write("speech.rttm", "SPEAKER late 1 0.1 0.2 <NA> <NA> near <NA> <NA>\n");
    const auto suite = read("[late]\nfile = 'late.wav'\nlabels = 'speech.rttm'\nmax_lost_percent = 0.5\n"
                            "[early]\nfile = 'early.wav'\nlabels = 'speech.rttm'\nreceiver_channel = 1\n"
                            "max_false_keys = 2\n");
    ASSERT_TRUE(suite.good());
    ASSERT_EQ(suite.items.size(), 2U);
    EXPECT_EQ(suite.items[0].name, "late");
    EXPECT_EQ(suite.items[0].limits.lost_percent, 0.5);
    EXPECT_EQ(suite.items[0].limits.false_keys, 0);
    EXPECT_EQ(suite.items[0].labels.labels.size(), 1U);
    EXPECT_EQ(suite.items[1].source.receiver_channel, 1);
    EXPECT_EQ(suite.items[1].limits.false_keys, 2);
    EXPECT_EQ(suite.items[1].limits.missed, 0);
}

TEST_F(TheSuite, TellsOfATableOfTwoWordsOnce) {
    EXPECT_EQ(problems("[two words]\nfile = 'late.wav'\n"), "prove.toml:1:6: a table's name has no blanks in it\n");
}

TEST_F(TheSuite, TellsAllThatIsWrongAtOnceAndWhere) {
    folder_.silence("a.wav");
    folder_.write("bad.rttm", "SPEAKER\n");
    EXPECT_EQ(problems("answer = 42\n"
                       "[a]\n"
                       "file = 'a.wav'\n"
                       "labels = 'bad.rttm'\n"
                       "max_mised = 1\n"
                       "max_onset_p50_ms = -1\n"
                       "max_cost = 'low'\n"
                       "[b]\n"
                       "file = 'none.wav'\n"
                       "no_receiver = true\n"
                       "receiver_channel = 2\n"),
              "prove.toml:1:1: answer: is not a recording's table; allowed: [name], of letters, digits, _ and -\n"
              "prove.toml:4:10: a.labels: bad.rttm:1: 10 fields expected, 1 found\n"
              "prove.toml:5:1: a.max_mised: no such key; did you mean max_missed?\n"
              "prove.toml:6:20: a.max_onset_p50_ms: -1 is out of range; allowed: 0 to 1e+06 ms\n"
              "prove.toml:7:12: a.max_cost: \"low\" is text, not a number; allowed: 0 to 1\n"
              "prove.toml:8:2: b: has no labels\n"
              "prove.toml:9:8: b.file: none.wav: there is no such file\n"
              "prove.toml:11:20: b.receiver_channel: contradicts no_receiver = true\n");
}

TEST_F(TheSuite, ReadsOnAfterALineThatIsNotToml) {
    const auto text = problems("[a]\nfile = \nlabels = 7\n");
    EXPECT_NE(text.find("prove.toml:2:"), std::string::npos) << text;
    EXPECT_NE(text.find("prove.toml:3:10: a.labels: 7 is a whole number, not text"), std::string::npos) << text;
}

TEST_F(TheSuite, TellsOfALineThatIsNotTomlWhatWasMeantAndReadsOnAfterIt) {
    folder_.silence("a.wav");
    EXPECT_EQ(problems("[a]\nfile = a.wav\nlabels = \"a.rttm\nmax_missed = 0,5\n[b\nfile = 'a.wav'\nnonsense\ncolour = 3\n"),
              "prove.toml:2:8: a.file: text needs quotes: \"a.wav\"\n"
              "prove.toml:3:17: a.labels: the quote is not closed: \"a.rttm\n"
              "prove.toml:4:15: a.max_missed: decimals follow a point, not a comma; did you mean 0.5?\n"
              "prove.toml:5:2: b: has no labels\n"
              "prove.toml:5:3: not valid TOML: Error while parsing table header: expected ']', saw '\\n'\n"
              "prove.toml:7:9: not valid TOML: Error while parsing key-value pair: expected '=', saw '\\n'\n"
              "prove.toml:8:1: b.colour: no such key; allowed: " + item_key_names() + "\n");
}

TEST_F(TheSuite, IsRefusedWhenItNamesNothingOrIsNotThere) {
    EXPECT_EQ(problems("# nothing\n"), "prove.toml: names no recording\n");
    EXPECT_NE(problems("['a.b']\nfile = 'a.wav'\n").find("is not a recording's table"), std::string::npos);
    EXPECT_NE(problems("[[a]]\nfile = 'a.wav'\n").find("is not a recording's table"), std::string::npos);
    const auto none = read_suite(folder_.path() / "none", {}, {});
    ASSERT_EQ(none.problems.size(), 1U);
}

TEST_F(TheSuite, TakesARecordingsOwnConfigurationAndTellsWhatIsWrongWithIt) {
    folder_.silence("a.wav");
    folder_.write("a.rttm", "");
    folder_.write("station.toml", "[gate]\nhold_ms = 2500\n");
    folder_.write("wrong.toml", "[gate]\nhold_ms = 'long'\n");
    const std::string table = "[a]\nfile = 'a.wav'\nlabels = 'a.rttm'\nconfig = ";
    const auto suite = read(table + "'station.toml'\n");
    ASSERT_TRUE(suite.good());
    EXPECT_EQ(suite.items[0].settings.detector.hold, std::chrono::milliseconds(2500));
    const auto wrong = problems(table + "'wrong.toml'\n");
    EXPECT_NE(wrong.find("prove.toml:4:10: a.config: wrong.toml:2:11: gate.hold_ms"), std::string::npos) << wrong;
}

}  // namespace
}  // namespace tripline::prove
