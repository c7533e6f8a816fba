// Settings on the command line.
#include "config/live.h"
#include "tests/config/support.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

TEST(AnOverlay, GoesOverTheFileAndTheLastOneCounts) {
    const auto loaded =
        load_text("gate.hold_ms = 1000\n", "station.toml", {"gate.hold_ms=2000", "gate.hold_ms=2500"});
    EXPECT_EQ(messages(loaded), "");
    EXPECT_EQ(loaded.settings.station.detector.hold, std::chrono::milliseconds(2500));
    EXPECT_EQ(to_string(loaded.origin("gate.hold_ms")), "--set:2:14");
}

TEST(AnOverlay, NeedsNoQuotesForText) {
    const auto loaded = load_defaults({"audio.device=Grey box: USB (1,0)", "gate.threshold = fixed",
                                       "line.mute.kind='serial'", "line.mute.device=\"/dev/ttyS0\"",
                                       "line.mute.pin=dtr"});
    EXPECT_EQ(messages(loaded), "");
    EXPECT_EQ(loaded.settings.audio.device, "Grey box: USB (1,0)");
    EXPECT_EQ(loaded.settings.station.detector.gate.threshold, dsp::Threshold::fixed);
    EXPECT_EQ(line(loaded.settings, lines::Role::mute).serial_pin, lines::SerialPin::dtr);
    EXPECT_EQ(line(loaded.settings, lines::Role::mute).device, "/dev/ttyS0");
}

TEST(AnOverlay, IsCheckedLikeTheFileAndTellsItsPlace) {
    EXPECT_EQ(messages_of("", {"gate.open_dbfs=-50", "gate.open_dbfs = -500", "gate.thresold=fixed",
                               "gate.threshold=fixd", "nonsense", "gate.hold_ms=1 # a\nx=2"}),
              "--set:2:18: gate.open_dbfs: -500 is out of range; allowed: -90 to -3 dBFS\n"
              "--set:3:1: gate.thresold: no such key; did you mean gate.threshold?\n"
              "--set:4:16: gate.threshold: \"fixd\" is not one of its values; allowed: \"floating\", "
              "\"fixed\"; did you mean \"fixed\"?\n"
              "--set:5:1: \"nonsense\" is not key=value\n"
              "--set:6:14: gate.hold_ms: \"1 # a\\u000Ax=2\" is text, not a number; allowed: 100 to 10000 ms\n");
}

TEST(AnOverlay, ThatIsEmptyOrBrokenIsRefused) {
    EXPECT_EQ(messages_of("", {"", "=", "=5", "gate.hold_ms=", "gate.hold_ms", "audio.device=\xff"}),
              "--set:1:1: \"\" is not key=value\n"
              "--set:2:1: \"=\" is not key=value\n"
              "--set:3:1: \"=5\" is not key=value\n"
              "--set:4:14: gate.hold_ms: \"\" is text, not a number; allowed: 100 to 10000 ms\n"
              "--set:5:1: \"gate.hold_ms\" is not key=value\n"
              "--set:6:14: audio.device: the value is not valid TOML\n");
}

TEST(AnOverlay, ThatIsNoNumberTellsWhatIsAllowed) {
    EXPECT_EQ(messages_of("", {"gate.hold_ms=abc"}),
              "--set:1:14: gate.hold_ms: \"abc\" is text, not a number; allowed: 100 to 10000 ms\n");
}

TEST(OneSetting, IsToldWhatIsWrongWithItWithoutAPlace) {
    EXPECT_EQ(fault_of_one("gate.hold_ms=2000"), "");
    EXPECT_EQ(fault_of_one("gate.hold_ms=abc"), "gate.hold_ms: \"abc\" is text, not a number; allowed: 100 to 10000 ms");
    EXPECT_EQ(fault_of_one("gate.hold_m=3"), "gate.hold_m: no such key; did you mean gate.hold_ms?");
    EXPECT_EQ(fault_of_one("nonsense"), "\"nonsense\" is not key=value");
}

TEST(AnOverlay, MayPutRightWhatTheFileAloneLeavesWrong) {
    EXPECT_EQ(messages_of("gate.hysteresis_db = 9\n", {"gate.above_floor_db=12"}), "");
}

}  // namespace
}  // namespace tripline::config
