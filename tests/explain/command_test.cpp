// `tripline explain` on the shipped recording, whose events are on record.
#include "daemon/cli/time_option.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>

namespace tripline::cli {
namespace {

constexpr auto evening = "testdata/evening.flac";

void expect_part(const std::string& text, const std::string& part) {
    EXPECT_NE(text.find(part), std::string::npos) << part << "\nis not in\n" << text;
}

TEST(Explain, TellsOfEachTransmissionWhyItBeganAndEnded) {
    const auto outcome = run({"explain", evening});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    expect_part(outcome.out, "3 transmissions in ");
    expect_part(outcome.out, "Why it keyed, decided at 11.");
    expect_part(outcome.out, "dB over the threshold of ");
    expect_part(outcome.out, "No voice from ");
    expect_part(outcome.out, "gate.hold_ms = 1500");
}

TEST(Explain, TellsWhatWouldHaveKeptATransmissionOffTheAir) {
    const auto outcome = run({"explain", evening, "0:32"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    expect_part(outcome.out, "At 32.000 s: keyed, from 31.");
    expect_part(outcome.out, "What would have kept it off the air? Each alone, seen by replay:\n");
    expect_part(outcome.out, "gate.above_floor_db");
    expect_part(outcome.out, "transmissions so far: ");
}

TEST(Explain, TellsThatTheReceiverWasTakenForItself) {
    const auto outcome = run({"explain", evening, "23"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    expect_part(outcome.out, "At 23.000 s: not keyed\nWhy it did not key:\n");
    expect_part(outcome.out, "The receiver could explain what the microphone heard.");
    expect_part(outcome.out, "Nearest to keying, at 2");
    expect_part(outcome.out, "anti_trip.coupling_db");
    expect_part(outcome.out, "What would have keyed it?");
}

TEST(Explain, TellsThatNothingKeysInModeSafe) {
    expect_part(run({"explain", evening, "12", "--set", "station.start_mode=safe"}).out, "nothing keys: station.start_mode");
}

TEST(Explain, RefusesAMomentThatIsNone) {
    for (const char* time : {"soon", "-1", "1:60", "1.5:00", "1:2:3:4", "inf"}) {
        const auto outcome = run({"explain", evening, "--", time});
        EXPECT_EQ(outcome.code, 2) << time;
        expect_part(outcome.err, "is not a time");
    }
    expect_part(run({"explain", evening, "1:00:00"}).err, "testdata/evening.flac: ends before 1:00:00");
    expect_part(run({"explain", "0:32"}).err, "0:32 is a time, and a recording is needed. A running station is explained from");
    expect_part(run({"explain", "none.wav"}).err, "none.wav: there is no such file");
}

TEST(ATimeOfACommandLine, IsSecondsOrMinutesOrHours) {
    using std::chrono_literals::operator""ms;
    EXPECT_EQ(time_in("754.25"), Duration(754250ms));
    EXPECT_EQ(time_in("12:34.25"), Duration(754250ms));
    EXPECT_EQ(time_in("1:02:03"), Duration(3723000ms));
}

}  // namespace
}  // namespace tripline::cli
