// Tables that TOML refuses: what is told of them, and that the file is read on past them.
#include "tests/config/support.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

TEST(ATableGivenTwice, IsToldWithTheLineThatHasItFirstAndReadOn) {
    EXPECT_EQ(messages_of("[line]\n[gate]\nhold_ms = 5\n[line]\nptt.kind = \"x\"\n[web]\nport = 99999\n[gate] # more\nqualify_ms = 5000\n"),
              "station.toml:3:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n"
              "station.toml:4:1: line: is given twice; line 1 has it first\n"
              "station.toml:5:12: line.ptt.kind: \"x\" is not one of its values; allowed: \"none\", \"file\", \"serial\", \"gpio\", \"cm108\"\n"
              "station.toml:7:8: web.port: 99999 is out of range; allowed: 0 to 65535\n"
              "station.toml:8:1: gate: is given twice; line 2 has it first\n"
              "station.toml:9:14: gate.qualify_ms: 5000 is out of range; allowed: 0 to 200 ms\n");
}

TEST(ATableGivenTwice, MayHaveBeenADottedKeyOrAListOfTables) {
    EXPECT_EQ(messages_of("line.ptt.kind = \"none\"\n[line.ptt]\nhold = 1\n[gate]\n[[gate]]\nhold_ms = 3\n"),
              "station.toml:2:1: line.ptt: is given twice; line 1 has it first\n"
              "station.toml:3:1: line.ptt.hold: no such key; did you mean gate.hold_ms?\n"
              "station.toml:5:1: gate: is given twice; line 4 has it first\n"
              "station.toml:6:11: gate.hold_ms: 3 is out of range; allowed: 100 to 10000 ms\n");
}

TEST(ATableGivenTwice, IsToldOfEveryTable) {
    for (const Table& table : all_tables()) {
        const std::string header = '[' + table.path + "]\n";
        EXPECT_EQ(messages_of(header + header + "nothing_like_it_at_all_here = 1\n[nowhere]\n"),
                  "station.toml:2:1: " + table.path + ": is given twice; line 1 has it first\n"
                  "station.toml:3:1: " + table.path + ".nothing_like_it_at_all_here: no such key\n"
                  "station.toml:4:2: nowhere: no such table\n");
    }
}

TEST(ATableGivenTwice, DoesNotMakeTheFileGood) {
    EXPECT_FALSE(load_text("[gate]\nhold_ms = 1000\n[gate]\nqualify_ms = 5\n", "station.toml").good());
}

TEST(ATablesName, MayBeInQuotesAndIsToldInItsOwnLine) {
    EXPECT_EQ(messages_of("[line.\"ptt\"]\nkind = none\n[line.ptt]\n"),
              "station.toml:2:9: line.ptt.kind: text needs quotes: \"none\"\n"
              "station.toml:3:1: line.ptt: is given twice; line 1 has it first\n");
    EXPECT_EQ(messages_of("line = 5\n[line.\"ptt\"]\n[line.\"mute\"]\nkind = \"x\"\n"),
              "station.toml:1:1: line: is a table of settings; 5 can't stand for it\n"
              "station.toml:2:1: not valid TOML: Error while parsing table header: cannot redefine existing integer 'line.ptt' as table\n"
              "station.toml:3:1: not valid TOML: Error while parsing table header: cannot redefine existing integer 'line.mute' as table\n"
              "station.toml:4:8: line.mute.kind: \"x\" is not one of its values; allowed: \"none\", \"file\", \"serial\", \"gpio\", \"cm108\"\n");
}

TEST(ATableGivenTwice, IsNotLookedForInATextOfManyLinesOrAList) {
    const std::string name = "[web]\nname = \"\"\"\n[gate]\nhold_ms = 4\n\"\"\"\n";
    EXPECT_NE(messages_of(name + "[gate]\nhold_ms = 1500\n[gate]\nqualify_ms = 5\n").find("station.toml:8:1: gate: is given twice; line 6 has it first\n"), std::string::npos);
    EXPECT_NE(messages_of(name + "[gate]\nhold_ms = 1500\nhold_ms = 1600\n").find("gate.hold_ms: is given twice; line 7 has it first\n"), std::string::npos);
    EXPECT_NE(messages_of("[web]\nname = [ # no name\n'[gate]',\n]\n[gate] # [\n[log]\n[gate]\n").find("station.toml:7:1: gate: is given twice; line 5 has it first\n"), std::string::npos);
}

TEST(ATableOfWords, IsToldOnceAndNotTakenForItsFirstWord) {
    EXPECT_EQ(messages_of("[line ptt]\nkind = \"x\"\n[gate]\nhold_ms = 5\n"),
              "station.toml:1:7: a table's name has no blanks in it\n"
              "station.toml:4:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n");
}

/// That the table below was read as [gate].
std::string read_as_gate(const std::string& header) { return messages_of(header + "\nhold_ms = 5\n"); }

TEST(ABrokenTable, IsReadAsTheOneItNames) {
    const std::string read = "station.toml:2:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n";
    for (const std::string header : {"[gate]]", "[gate", "[\"gate\"]]", "[\"gate", "[gate}", "(gate]", "{gate}", "[[gate]", "[gate] hold_ms = 7"}) {
        const auto text = read_as_gate(header);
        EXPECT_TRUE(text.starts_with("station.toml:1:")) << header << '\n' << text;
        EXPECT_TRUE(text.ends_with(read)) << header << '\n' << text;
    }
}

TEST(ABrokenTable, WithoutANameHidesNoProblemOfTheTablesAfterIt) {
    for (const std::string header : {"[]", "[line.", "[.gate]", "[ ]"}) {
        const auto text = messages_of(header + "\ncolour = 1\n[gate]\nhold_ms = 5\n");
        EXPECT_TRUE(text.ends_with("station.toml:4:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n")) << header << '\n' << text;
        EXPECT_EQ(text.find("colour"), std::string::npos) << text;
    }
}

TEST(ATableGivenTwice, IsNotMistakenForAnUnknownTableOfAnyName) {
    EXPECT_EQ(messages_of("[given-again.1.gate]\nhold_ms = 5\n"), "station.toml:1:16: given-again.1.gate: no such table\n");
    EXPECT_EQ(messages_of("given-again = 1\n[gate]\n[gate]\nhold_ms = 5\n"), "station.toml:3:1: gate: is given twice; line 2 has it first\n");
}

}  // namespace
}  // namespace tripline::config
