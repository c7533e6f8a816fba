// The words an operator reads when a configuration is wrong.
#include "config/load.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

std::string messages(const Loaded& loaded) {
    std::string text;
    for (const auto& problem : loaded.problems) text += to_string(problem) + '\n';
    return text;
}

std::string messages_of(std::string_view file, const Overlays& overlays = {}) {
    return messages(load_text(file, "station.toml", overlays));
}

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

TEST(AConfiguration, GoesOnReadingAfterALineThatIsNotToml) {
    EXPECT_EQ(messages_of("[gate]\n"
                          "open_dbfs = minus fifty\n"
                          "hold_ms = 5\n"),
              "station.toml:2:13: not valid TOML: Error while parsing value: could not determine "
              "value type\n"
              "station.toml:3:11: gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms\n");
}

TEST(AConfiguration, RefusesAKeyGivenTwice) {
    EXPECT_EQ(messages_of("[gate]\nhold_ms = 1000\nhold_ms = 2000\n"),
              "station.toml:3:11: not valid TOML: Error while parsing key-value pair: cannot "
              "redefine existing integer 'hold_ms'\n");
}

TEST(AConfiguration, RefusesNumbersThatAreNone) {
    EXPECT_EQ(
        messages_of("gate.open_dbfs = nan\nanti_trip.coupling_db = -inf\n"),
        "station.toml:1:18: gate.open_dbfs: nan is out of range; allowed: -90 to -3 dBFS\n"
        "station.toml:2:25: anti_trip.coupling_db: -inf is out of range; allowed: -60 to 30 dB\n");
}

TEST(AConfiguration, RefusesBytesThatAreNotUtf8) {
    EXPECT_EQ(messages_of("[audio]\ndevice = \"\xff\xfe\"\n"),
              "station.toml:2:10: not valid TOML: Encountered invalid utf-8 sequence\n");
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

TEST(AnOverlay, IsCheckedLikeTheFileAndTellsItsPlace) {
    EXPECT_EQ(messages_of("", {"gate.open_dbfs=-50", "gate.open_dbfs = -500", "gate.thresold=fixed",
                               "gate.threshold=fixd", "nonsense", "gate.hold_ms=1 # a\nx=2"}),
              "--set:2:18: gate.open_dbfs: -500 is out of range; allowed: -90 to -3 dBFS\n"
              "--set:3:1: gate.thresold: no such key; did you mean gate.threshold?\n"
              "--set:4:16: gate.threshold: \"fixd\" is not one of its values; allowed: "
              "\"floating\", \"fixed\"; did you mean \"fixed\"?\n"
              "--set:5:1: \"nonsense\" is not key=value\n"
              "--set:6:14: gate.hold_ms: the value is not valid TOML\n");
}

TEST(RolesOnOnePin, AreRefused) {
    EXPECT_EQ(
        messages_of("[line.ptt]\nkind = \"serial\"\ndevice = \"/dev/ttyUSB0\"\n"
                    "[line.mute]\nkind = \"serial\"\ndevice = \"/dev/ttyUSB0\"\npin = \"rts\"\n"
                    "[line.antenna]\nkind = \"gpio\"\n"
                    "[line.alive]\nkind = \"cm108\"\npin = 9\n"),
        "station.toml:7:7: line.mute.pin: is the pin of line.ptt; allowed: a pin of its own\n"
        "station.toml:9:8: line.antenna.kind: needs line.antenna.device; allowed: the path of the "
        "file or device\n"
        "station.toml:9:8: line.antenna.kind: needs line.antenna.pin; allowed: 0 to 1023\n"
        "station.toml:11:8: line.alive.kind: needs line.alive.device; allowed: the path of the "
        "file or device\n"
        "station.toml:12:7: line.alive.pin: 9 is no pin of a cm108 line; allowed: \"rts\" or "
        "\"dtr\" (serial), 0 to 1023 (gpio), 1 to 8 (cm108)\n");
}

}  // namespace
}  // namespace tripline::config
