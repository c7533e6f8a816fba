// `tripline tune` from the command line to the exit code.
#include "daemon/cli/program.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace tripline::cli {
namespace {

struct Outcome {
    int code = -1;
    std::string out;
    std::string err;
};

Outcome tune(const std::vector<std::string>& more) {
    std::vector<const char*> argv{"tripline", "tune", "testdata/evening.flac", "--labels", "testdata/evening.rttm"};
    for (const auto& word : more) argv.push_back(word.c_str());
    Outcome outcome;
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    outcome.code = run_program(static_cast<int>(argv.size()), argv.data());
    outcome.out = testing::internal::GetCapturedStdout();
    outcome.err = testing::internal::GetCapturedStderr();
    return outcome;
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
