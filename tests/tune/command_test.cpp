// `tripline tune` from the command line to the exit code.
#include "tests/cli/run.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tripline::cli {
namespace {

Outcome tune(const std::vector<std::string>& more) {
    std::vector<std::string> words{"tune", "testdata/evening.flac", "--labels", "testdata/evening.rttm"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
}

TEST(Tune, AdvisesNoChangeWhereTheMapShowsNoEdge) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-60:-44:4", "--up", "anti_trip.coupling_db=-8:8:4"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("at least 8 dB down (the map ends there), at least 8 dB up"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("anti_trip.coupling_db: no edge is seen from -8 to 8"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("The settings in force stay."), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("Change:"), std::string::npos) << outcome.out;
}

TEST(Tune, MovesASettingAwayFromTheEdgeThatWasSeen) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-50:-18:4", "--up", "anti_trip.coupling_db=-8:8:4", "--set", "gate.open_dbfs=-34"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("# was -34"), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("  anti_trip.coupling_db = "), std::string::npos) << outcome.out;
}

TEST(Tune, DoesNotNoteOfEveryValueThatItIsUnusual) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-56:-44:4", "--up", "gate.hold_ms=500:1500:500"});
    EXPECT_EQ(outcome.err, "");
    const Outcome refused = tune({"--across", "gate.open_dbfs=-56:-44:4", "--up", "gate.hold_ms=5:1500:500"});
    EXPECT_EQ(refused.code, 2);
    EXPECT_NE(refused.err.find("gate.hold_ms: 5 is out of range"), std::string::npos) << refused.err;
}

TEST(Tune, WritesItsMapAsWhatTheNameSays) {
    const Outcome outcome = tune({"--plot", "map.html"});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find("--plot map.html: what is written is SVG: a picture ends in .svg"), std::string::npos) << outcome.err;
}

TEST(Tune, CountsAnOverThatIsTornAsAMistake) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-22:-18:2", "--up", "anti_trip.coupling_db=4:8:2"});
    EXPECT_EQ(outcome.code, 1) << outcome.out;
}

}  // namespace
}  // namespace tripline::cli
