// The words an operator reads when a configuration is wrong.
#include "tests/config/support.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

TEST(AConfiguration, IsGoodWhenItIsEmpty) {
    const auto loaded = load_text("", "station.toml");
    EXPECT_TRUE(loaded.good());
    EXPECT_EQ(messages(loaded), "");
}

TEST(AConfiguration, TellsAllItsProblemsAtOnceInTheOrderOfTheFile) {
    EXPECT_EQ(messages_of("[gate]\n"
                          "opne_dbfs = -50\n"
                          "threshold = \"flaoting\"\n"
                          "hold_ms = 20000\n"
                          "qualify_ms = \"short\"\n"
                          "[gaet]\n"
                          "open_dbfs = -50\n"),
              "station.toml:2:1: gate.opne_dbfs: no such key; did you mean gate.open_dbfs?\n"
              "station.toml:3:13: gate.threshold: \"flaoting\" is not one of its values; "
              "allowed: \"floating\", \"fixed\"; did you mean \"floating\"?\n"
              "station.toml:4:11: gate.hold_ms: 20000 is out of range; allowed: 100 to 10000 ms\n"
              "station.toml:5:14: gate.qualify_ms: \"short\" is text, not a number; "
              "allowed: 0 to 200 ms\n"
              "station.toml:6:2: gaet: no such table; did you mean [gate]?\n");
}

TEST(AConfiguration, TakesNoKeyOfTheTableForOneThatWasMeantByTheTableAlone) {
    EXPECT_EQ(messages_of("web.enable = true\nblack_box.enabled = false\nweb.fame = 1\nweb.tables = 1\nlog.lever = 1\n"),
              "station.toml:1:5: web.enable: no such key; did you mean web.port?\n"
              "station.toml:2:11: black_box.enabled: no such key; did you mean black_box.keep_s?\n"
              "station.toml:3:5: web.fame: no such key; did you mean web.name?\n"
              "station.toml:4:5: web.tables: no such key\n"
              "station.toml:5:5: log.lever: no such key; did you mean log.level?\n");
}

TEST(AConfiguration, GoesOnReadingAfterALineThatIsNotToml) {
    EXPECT_EQ(messages_of("[gate]\n"
                          "open_dbfs = minus fifty\n"
                          "hold_ms = 5\n"),
              "station.toml:2:13: gate.open_dbfs: not valid TOML: Error while parsing value: could not determine "
              "value type\n"
              "station.toml:3:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n");
}

TEST(AConfiguration, GoesOnReadingAfterABrokenTableAndAfterWordsThatAreNothing) {
    EXPECT_EQ(messages_of("[gate\nhold_ms = 5\n  oops\n[[station]\nmode = \"armed\"\n"),
              "station.toml:1:6: not valid TOML: Error while parsing table header: expected ']', saw '\\n'\n"
              "station.toml:2:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n"
              "station.toml:3:7: not valid TOML: Error while parsing key-value pair: expected '=', saw '\\n'\n"
              "station.toml:4:11: not valid TOML: Error while parsing table header: expected ']', saw '\\n'\n"
              "station.toml:5:1: station.mode: no such key; did you mean station.start_mode?\n");
}

TEST(AnUnknownKey, IsTakenForOneThatHasItsPartsOrIsCalledSoToo) {
    EXPECT_EQ(messages_of("[audio]\nmic_channel = 1\nrx_channel = 2\nspeaker_channel = 2\n[gate]\npre_key_ms = 5\nhang_time_ms = 500\n[line.mute]\npre_key_ms = 5\n"),
              "station.toml:2:1: audio.mic_channel: no such key; did you mean audio.microphone_channel?\n"
              "station.toml:3:1: audio.rx_channel: no such key; did you mean audio.receiver_channel?\n"
              "station.toml:4:1: audio.speaker_channel: no such key; did you mean audio.loudspeaker_channel?\n"
              "station.toml:6:1: gate.pre_key_ms: no such key; did you mean line.ptt.lead_ms?\n"
              "station.toml:7:1: gate.hang_time_ms: no such key; did you mean gate.hold_ms?\n"
              "station.toml:9:1: line.mute.pre_key_ms: no such key; did you mean line.mute.lead_ms?\n");
    EXPECT_EQ(messages_of("[audio]\nchannel = 1\n"), "station.toml:2:1: audio.channel: no such key\n") << "it may be any of four";
}

TEST(AConfiguration, TakesATablesNameWithoutBracketsForTheTable) {
    EXPECT_EQ(messages_of("[web]\nport = 8080\n(gate)\nhold_ms = 5\nline.ptt\nkind = \"none\"\nline.mute:\nkind = \"none\"\n"),
              "station.toml:3:1: not valid TOML: Error while parsing root table: expected keys, tables, whitespace or comments, saw '('\n"
              "station.toml:4:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n"
              "station.toml:5:9: not valid TOML: Error while parsing key-value pair: expected '=', saw '\\n'\n"
              "station.toml:7:10: not valid TOML: Error while parsing key-value pair: expected '=', saw ':'\n");
}

TEST(AConfiguration, TellsAValueThatIsNotClosedWhereItBeginsAndBlamesNoLineThatItSwallowed) {
    EXPECT_EQ(messages_of("[web]\naddress = \"\"\"\nport = 8080\n[gate]\nhold_ms = 1000\n"),
              "station.toml:2:11: web.address: the quote is not closed\n");
    EXPECT_EQ(messages_of("[web]\naddress = [1, # one ]\n 2\nport = 8080\n[gate]\nhold_ms = 1000\n"),
              "station.toml:2:11: web.address: the list is not closed\n");
    EXPECT_EQ(messages_of("[web]\naddress = [\n[gate\n]\n"), "station.toml:2:11: web.address: the list is not closed\n");
}

TEST(AConfiguration, ReadsNoLineOfALongValueAsAKey) {
    EXPECT_EQ(messages_of("[web]\naddress = \"\"\"\nport = \\q\n\"\"\"\n"),
              "station.toml:3:9: not valid TOML: Error while parsing string: unknown escape sequence '\\q'\n");
    EXPECT_EQ(messages_of("[web]\nport = 8080\nport = \"\"\"\naddress = 5\n\"\"\"\n"),
              "station.toml:3:8: web.port: is given twice; line 2 has it first\n");
}

TEST(AConfiguration, TellsATableBelowAValueInItsOwnLine) {
    EXPECT_EQ(messages_of("line = 5\n[line.ptt]\nlead_ms = 1\n"),
              "station.toml:1:1: line: is a table of settings; 5 can't stand for it\n"
              "station.toml:2:1: not valid TOML: Error while parsing table header: cannot redefine existing integer 'line.ptt' as table\n");
}

TEST(AConfiguration, TellsABrokenLineOnce) {
    EXPECT_EQ(messages_of("[gate]\n[[gate]]\n"),
              "station.toml:2:1: gate: is given twice; line 1 has it first\n");
    EXPECT_EQ(messages_of("gate = {hold_ms = 1000}\ngate.qualify_ms = 5\n"),
              "station.toml:2:1: gate.qualify_ms: not valid TOML: Error while parsing key-value pair: cannot redefine existing table as dotted key-value pair\n");
}

TEST(AConfiguration, NamesTheTableThatWasMeantBelowAWrongOne) {
    EXPECT_EQ(messages_of("[lines.ptt]\nkind = \"serial\"\n[lines.mute]\nkind = \"none\"\n"),
              "station.toml:1:8: lines.ptt: no such table; did you mean [line.ptt]?\n"
              "station.toml:3:8: lines.mute: no such table; did you mean [line.mute]?\n");
    EXPECT_EQ(messages_of("[line.relay]\nkind = \"none\"\n"),
              "station.toml:1:7: line.relay: no such table; allowed: [line.ptt], [line.mute], [line.antenna], [line.alive]\n");
}

TEST(AConfiguration, KnowsTheKeysOfALineByOtherWordsForThem) {
    EXPECT_EQ(messages_of("[line.ptt]\nline = \"rts\"\nport = \"/dev/ttyS0\"\ntype = \"serial\"\n"),
              "station.toml:2:1: line.ptt.line: no such key; did you mean line.ptt.pin?\n"
              "station.toml:3:1: line.ptt.port: no such key; did you mean line.ptt.device?\n"
              "station.toml:4:1: line.ptt.type: no such key; did you mean line.ptt.kind?\n");
    EXPECT_EQ(messages_of("log.enabled = true\n"), "station.toml:1:5: log.enabled: no such key\n") << "what enables something else was not meant";
}

TEST(AConfiguration, TellsThatTextNeedsQuotes) {
    EXPECT_EQ(messages_of("[gate]\nthreshold = fixed\n[line.ptt]\nkind=none\n"
                          "device = /dev/ttyS0  # the adapter\npin = rts\n"),
              "station.toml:2:14: gate.threshold: text needs quotes: \"fixed\"\n"
              "station.toml:4:7: line.ptt.kind: text needs quotes: \"none\"\n"
              "station.toml:5:10: line.ptt.device: text needs quotes: \"/dev/ttyS0\"\n"
              "station.toml:6:7: line.ptt.pin: text needs quotes: \"rts\"\n");
}

TEST(AConfiguration, KnowsANumberInQuotesAndAWordInCapitals) {
    const std::string mute = "[line.mute]\ndevice = \"/dev/x\"\nkind = ";
    EXPECT_EQ(messages_of(mute + "\"serial\"\npin = \"RTS\"\n"),
              "station.toml:4:7: line.mute.pin: \"RTS\" is no pin of a serial line; allowed: \"rts\" or "
              "\"dtr\"; did you mean \"rts\"?\n");
    EXPECT_EQ(messages_of(mute + "\"gpio\"\npin = \"17\"\n"),
              "station.toml:4:7: line.mute.pin: \"17\" is no pin of a gpio line; allowed: 0 to 1023; did "
              "you mean 17 without quotes?\n");
    EXPECT_EQ(messages_of("gate.hold_ms = \"1500\"\ngate.threshold = \"FIXED\"\n"),
              "station.toml:1:16: gate.hold_ms: \"1500\" is text, not a number; allowed: 100 to 10000 ms; "
              "did you mean 1500 without quotes?\n"
              "station.toml:2:18: gate.threshold: \"FIXED\" is not one of its values; allowed: "
              "\"floating\", \"fixed\"; did you mean \"fixed\"?\n");
}

TEST(AConfiguration, RefusesAKeyGivenTwice) {
    EXPECT_EQ(messages_of("[gate]\nhold_ms = 1000\nhold_ms = 2000\n"),
              "station.toml:3:11: gate.hold_ms: is given twice; line 2 has it first\n");
}

TEST(AConfiguration, TellsOfADecimalCommaAndOfAQuoteLeftOpen) {
    EXPECT_EQ(messages_of("[gate]\nopen_dbfs = -50,5\n"),
              "station.toml:2:16: gate.open_dbfs: decimals follow a point, not a comma; did you mean -50.5?\n");
    EXPECT_EQ(messages_of("[audio]\ndevice = \"Grey box\nrate_hz = 48000\n"),
              "station.toml:2:19: audio.device: the quote is not closed: \"Grey box\n");
}

TEST(AConfiguration, RefusesNumbersThatAreNone) {
    EXPECT_EQ(
        messages_of("gate.open_dbfs = nan\nanti_trip.coupling_db = -inf\n"),
        "station.toml:1:18: gate.open_dbfs: nan is out of range; allowed: -90 to -3 dBFS\n"
        "station.toml:2:25: anti_trip.coupling_db: -inf is out of range; allowed: -60 to 30 dB\n");
}

TEST(AConfiguration, RefusesBytesThatAreNotUtf8) {
    EXPECT_EQ(messages_of("[audio]\ndevice = \"\xff\xfe\"\n"),
              "station.toml:2:11: a byte that is not UTF-8\n");
}

// toml++ 3.3 relies on the next line starting a key here, and it does not.
TEST(AConfiguration, RefusesBytesThatAreNotUtf8InACommentToo) {
    EXPECT_EQ(messages_of("# caf\xe9\n] = 1\n"), "station.toml:1:6: a byte that is not UTF-8\n");
}

TEST(AConfiguration, RefusesATableInPlaceOfAKeyAndTheReverse) {
    EXPECT_EQ(messages_of("gate = 5\n[line]\nptt = true\n[audio.device]\nname = \"x\"\n"),
              "station.toml:1:1: gate: is a table of settings; 5 can't stand for it\n"
              "station.toml:3:1: line.ptt: is a table of settings; true can't stand for it\n"
              "station.toml:4:1: audio.device: is a table, not text; allowed: text of at most 255 "
              "bytes without control characters\n");
}

TEST(AConfiguration, KnowsAKeyByItsNameInAnotherUnitOrTable) {
    EXPECT_EQ(
        messages_of("[gate]\nhold_s = 1.5\ncoupling_db = -6\nopen = -50\n"),
        "station.toml:2:1: gate.hold_s: no such key; did you mean gate.hold_ms?\n"
        "station.toml:3:1: gate.coupling_db: no such key; did you mean anti_trip.coupling_db?\n"
        "station.toml:4:1: gate.open: no such key; did you mean gate.open_dbfs?\n");
}

TEST(AConfiguration, DoesNotTakeAQuotedDotForAStepDown) {
    EXPECT_EQ(messages_of("\"gate.hold_ms\" = 5\n"),
              "station.toml:1:1: \"gate.hold_ms\": no such key; did you mean gate.hold_ms?\n");
}

TEST(AConfiguration, FullOfUnknownKeysFindsThemAllAndSuggestsForTheFirstHundred) {
    std::string text;
    for (int i = 0; i < 5000; ++i) text += "gate.hold_mss" + std::to_string(i) + " = 1\n";
    const auto loaded = load_text(text, "station.toml");
    ASSERT_EQ(loaded.problems.size(), 5000U);
    EXPECT_EQ(loaded.problems[99].suggestion, "gate.hold_ms");
    EXPECT_EQ(loaded.problems[100].suggestion, "");
}

TEST(AConfiguration, WithManyProblemsIsToldFiftyAndHowManyMoreThereAre) {
    const std::vector<std::string> fifty(50, "wrong");
    EXPECT_EQ(as_told(fifty), fifty);
    auto more = fifty;
    more.push_back("wrong");
    EXPECT_EQ(as_told(more).back(), "1 more problem is not told here");
    more.push_back("wrong");
    EXPECT_EQ(as_told(more).size(), 51U);
    EXPECT_EQ(as_told(more).back(), "2 more problems are not told here");
}

/// "a.a.a": as deep as a line has room for.
std::string deep(std::size_t bytes) {
    std::string path = "a";
    while (path.size() + 2 <= bytes) path += ".a";
    return path;
}

TEST(AConfiguration, SurvivesTheDeepestTablesThatLinesHaveRoomFor) {
    const auto text = '[' + deep(2046) + "]\n" + deep(2044) + " = 1\n";
    EXPECT_EQ(messages_of(text), "station.toml:1:6: a.a.a: no such table\n");
}

TEST(AConfiguration, SurvivesTheDeepestListsThatALineHasRoomFor) {
    const auto loaded = load_text("a = " + std::string(2044, '['), "station.toml");
    EXPECT_FALSE(loaded.good());
}

TEST(AConfiguration, EchoesForeignTextWithoutItsControlCharacters) {
    EXPECT_EQ(messages_of("[gate]\nthreshold = \"\\u001b[31m\\u0007\"\n"),
              "station.toml:2:13: gate.threshold: \"\\u001B[31m\\u0007\" is not one of its values; "
              "allowed: \"floating\", \"fixed\"\n");
}

}  // namespace
}  // namespace tripline::config
