// What an operator reads who wrote a number with a unit, with a comma or as text.
#include "tests/config/support.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

TEST(ANumberWithAUnit, IsToldAsTheNumberToWriteInTheKeysOwnUnit) {
    EXPECT_EQ(messages_of("[gate]\nhold_ms = 1500ms\nqualify_ms = 60 ms # short\nopen_dbfs = -45 dBFS\n[audio]\nrate_hz = 48kHz\n"),
              "station.toml:2:15: gate.hold_ms: a number stands without its unit, which the key's name says: 1500ms; did you mean 1500?\n"
              "station.toml:3:17: gate.qualify_ms: a number stands without its unit, which the key's name says: 60 ms; did you mean 60?\n"
              "station.toml:4:17: gate.open_dbfs: a number stands without its unit, which the key's name says: -45 dBFS; did you mean -45?\n"
              "station.toml:6:11: audio.rate_hz: a number stands without its unit, which the key's name says: 48kHz; did you mean 48000?\n");
    EXPECT_EQ(messages_of("gate.hold_ms = 2s\n"),
              "station.toml:1:17: gate.hold_ms: a number stands without its unit, which the key's name says: 2s; did you mean 2000?\n");
}

TEST(ANumberWithAUnit, InTheWrongTableOrByAnotherNameIsToldWithItsKey) {
    EXPECT_EQ(messages_of("[log]\nhold_ms = 2s\n[gate]\nhold_s = 1 s\nfile = x.jsonl\nnothing_like_it = 5 s\n"),
              "station.toml:2:12: log.hold_ms: no such key; did you mean gate.hold_ms = 2000?\n"
              "station.toml:4:12: gate.hold_s: no such key; did you mean gate.hold_ms = 1000?\n"
              "station.toml:5:8: gate.file: no such key; did you mean logbook.file?\n"
              "station.toml:6:21: not valid TOML: Error while parsing key-value pair: expected a comment or whitespace, saw 's'\n");
}

TEST(ALevelWithoutItsSign, IsToldWithIt) {
    const std::string meant = "is out of range; allowed: -90 to -3 dBFS; did you mean -50?\n";
    EXPECT_EQ(messages_of("gate.open_dbfs = 50\n"), "station.toml:1:18: gate.open_dbfs: 50 " + meant);
    EXPECT_TRUE(messages_of("gate.open_dbfs = 50 dBFS\n").ends_with("; 50 " + meant));
    EXPECT_TRUE(messages_of("gate.open_dbfs = \"50 dBFS\"\n").ends_with("did you mean -50?\n"));
    EXPECT_TRUE(messages_of("gate.open_dbfs = 42.5\n").ends_with("did you mean -42.5?\n"));
    for (const std::string other : {"gate.open_dbfs = 150", "gate.open_dbfs = -150", "gate.open_dbfs = 0", "gate.hold_ms = -1500", "gate.above_floor_db = -9"})
        EXPECT_EQ(messages_of(other + '\n').find("did you mean"), std::string::npos) << messages_of(other + '\n');
}

TEST(ANumberWithAUnit, OutOfTheKeysRangeIsToldTheRange) {
    EXPECT_EQ(messages_of("gate.hold_ms = 60ms\n"),
              "station.toml:1:18: gate.hold_ms: a number stands without its unit, which the key's name says: 60ms; 60 is out of range; "
              "allowed: 100 to 10000 ms\n");
}

TEST(ANumberWithAUnit, OfAnotherKindIsNoNumberOfTheKeys) {
    const auto text = messages_of("gate.hold_ms = 60dB\nweb.port = 8080Hz\n");
    EXPECT_EQ(text.find("did you mean"), std::string::npos) << text;
    EXPECT_EQ(text.find("without its unit"), std::string::npos) << text;
}

TEST(ANumberAsText, IsToldAsTheNumberToWrite) {
    EXPECT_EQ(messages_of("gate.open_dbfs = \"-45 dBFS\"\ngate.hold_ms = \"2 s\"\ngate.qualify_ms = \"1.5\"\ngate.above_floor_db = \"10,5\"\n"),
              "station.toml:1:18: gate.open_dbfs: \"-45 dBFS\" is text, not a number; allowed: -90 to -3 dBFS; did you mean -45?\n"
              "station.toml:2:16: gate.hold_ms: \"2 s\" is text, not a number; allowed: 100 to 10000 ms; did you mean 2000?\n"
              "station.toml:3:19: gate.qualify_ms: \"1.5\" is text, not a number; allowed: 0 to 200 ms; did you mean 1.5 without quotes?\n"
              "station.toml:4:23: gate.above_floor_db: \"10,5\" is text, not a number; allowed: 1 to 40 dB; did you mean 10.5?\n");
}

TEST(ANumberAsText, OutOfTheKeysRangeIsNotSuggested) {
    EXPECT_EQ(messages_of("gate.hold_ms = \"60\"\n"), "station.toml:1:16: gate.hold_ms: \"60\" is text, not a number; allowed: 100 to 10000 ms\n");
}

TEST(ANumberOfTheCommandLine, IsToldTheSame) {
    EXPECT_EQ(messages_of("", {"gate.hold_ms=2s", "gate.open_dbfs=-45,5"}),
              "--set:1:14: gate.hold_ms: \"2s\" is text, not a number; allowed: 100 to 10000 ms; did you mean 2000?\n"
              "--set:2:16: gate.open_dbfs: \"-45,5\" is text, not a number; allowed: -90 to -3 dBFS; did you mean -45.5?\n");
}

TEST(ADecimalComma, OutOfTheKeysRangeIsToldTheRangeAndNoNumberThatIsRefused) {
    EXPECT_EQ(messages_of("[gate]\nhold_ms = 1,5\nqualify_ms = 1,5\n"),
              "station.toml:2:12: gate.hold_ms: decimals follow a point, not a comma; 1.5 is out of range; allowed: 100 to 10000 ms\n"
              "station.toml:3:15: gate.qualify_ms: decimals follow a point, not a comma; did you mean 1.5?\n");
    EXPECT_EQ(messages_of("web.port = 80,5\n"),
              "station.toml:1:14: web.port: decimals follow a point, not a comma; 80.5 is a number, not a whole number; allowed: 0 to 65535\n");
}

}  // namespace
}  // namespace tripline::config
