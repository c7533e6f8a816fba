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
    EXPECT_NE(outcome.out.find("anti_trip.coupling_db: with gate.open_dbfs = -52, from -8 to 8, no edge is seen"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("The settings in force stay."), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("trust setup's, which it measured"), std::string::npos) << outcome.out;
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
    EXPECT_NE(refused.err.find("--up gate.hold_ms: 5 is out of range; allowed: 100 to 10000 ms"), std::string::npos) << refused.err;
}

TEST(Tune, TellsTheOperatorsOwnMistakesAndNotThoseOfThePairNextToThem) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-44:-20:8", "--up", "anti_trip.coupling_db=4:8:2", "--set", "gate.open_dbfs=-23"});
    EXPECT_NE(outcome.out.find("nearest to what is in force: gate.open_dbfs = -23"), std::string::npos) << outcome.out;
    EXPECT_NE(outcome.out.find("in force, gate.open_dbfs = -23, anti_trip.coupling_db = 6: "), std::string::npos) << outcome.out;
}

TEST(Tune, SaysOfAStationThatBeginsSafeThatNothingKeys) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-50:-46:4", "--up", "anti_trip.coupling_db=4:8:4", "--set", "station.start_mode=safe"});
    EXPECT_EQ(outcome.code, 1);
    EXPECT_EQ(outcome.err.find("station.start_mode = \"safe\": the station would begin safe"), 0U) << outcome.err;
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

TEST(Tune, TellsFiguresAsTheyWereMeant) {
    const Outcome outcome = tune({"--across", "gate.open_dbfs=-46.3:-36.1:5.1", "--up", "anti_trip.coupling_db=-0.2:0.1:0.1"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_NE(outcome.out.find("gate.open_dbfs = -41.2: may move by at least 5.1 dB"), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("99999"), std::string::npos) << outcome.out;
    EXPECT_EQ(outcome.out.find("00001"), std::string::npos) << outcome.out;
    const Outcome at_the_end = tune({"--across", "gate.open_dbfs=-48:-44:4", "--up", "anti_trip.coupling_db=4:8:4"});
    EXPECT_EQ(at_the_end.out.find("-0 dB"), std::string::npos) << at_the_end.out;
}

TEST(Tune, RefusesWhatItCannotDoBeforeItBegins) {
    const Outcome pin = tune({"--across", "line.ptt.pin=0:3:1"});
    EXPECT_EQ(pin.code, 2);
    EXPECT_NE(pin.err.find("--across line.ptt.pin: is no number, so it cannot be mapped"), std::string::npos) << pin.err;
    const Outcome unknown = tune({"--up", "gate.opn_dbfs=-60:-10:5"});
    EXPECT_EQ(unknown.code, 2);
    EXPECT_NE(unknown.err.find("--up gate.opn_dbfs: no such key; did you mean gate.open_dbfs?"), std::string::npos) << unknown.err;
    EXPECT_NE(unknown.err.find("(allowed: a setting that is a number"), std::string::npos) << unknown.err;
    const Outcome shapeless = tune({"--up", "gate.open_dbfs=-60"});
    EXPECT_NE(shapeless.err.find("--up gate.open_dbfs=-60: is not KEY=FROM:TO:STEP, as gate.open_dbfs=-64:-20:4 is"), std::string::npos) << shapeless.err;
    const Outcome many = tune({"--across", "gate.open_dbfs=-60:-10:0.5"});
    EXPECT_EQ(many.code, 2);
    EXPECT_NE(many.err.find("the values 100 at most"), std::string::npos) << many.err;
    const Outcome nothing = tune({"testdata/nothing.flac"});
    EXPECT_EQ(nothing.code, 2);
    EXPECT_NE(nothing.err.find("testdata/nothing.flac"), std::string::npos) << nothing.err;
}

}  // namespace
}  // namespace tripline::cli
