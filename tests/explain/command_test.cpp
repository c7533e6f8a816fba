// `tripline explain` on the shipped recording, whose events are on record.
#include "daemon/cli/captures.h"
#include "daemon/cli/time_option.h"
#include "daemon/logbook/line.h"
#include "tests/cli/run.h"

#include <gtest/gtest.h>

#include <fstream>

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
    expect_part(outcome.out, "The receiver could explain what the microphone heard: it was no louder than what the\n  loudspeaker may leak.");
    expect_part(outcome.out, "Nearest to keying, at 2");
    expect_part(outcome.out, "anti_trip.coupling_db");
    expect_part(outcome.out, "anti_trip.margin_db");
    expect_part(outcome.out, "What would have keyed it?");
}

TEST(Explain, OfAMomentOverTheThresholdTellsWhatStoodInItsWayAndNotWhatLastedLongerBesideIt) {
    const auto asked = run({"explain", "testdata/evening.flac", "19.583"});
    ASSERT_EQ(asked.code, 0) << asked.err;
    EXPECT_NE(asked.out.find("Why it did not key:\n  The station's own relays had just moved, or the receiver had just been unmuted"), std::string::npos) << asked.out;
    const auto beside = run({"explain", "testdata/evening.flac", "19.95"});
    EXPECT_NE(beside.out.find("Why it did not key:\n  The receiver could explain what the microphone heard"), std::string::npos) << beside.out;
}

TEST(Explain, TellsThatNothingKeysInModeSafe) {
    const auto outcome = run({"explain", evening, "12", "--set", "station.start_mode=safe"});
    expect_part(outcome.out, "nothing keys: station.start_mode");
    expect_part(outcome.out, "What would help?\n  To arm the station: tripline arm");
    EXPECT_EQ(outcome.out.find("gate.open_dbfs   "), std::string::npos) << outcome.out;
}

TEST(Explain, WithoutATimeSaysOfAStationThatBeginsSafeThatNothingKeys) {
    const auto outcome = run({"explain", evening, "--set", "station.start_mode=safe"});
    expect_part(outcome.out, "0 transmissions in ");
    expect_part(outcome.err, "the station would begin safe, and nothing keys until it is armed");
    EXPECT_EQ(run({"explain", evening}).err, "");
}

TEST(Explain, TakesNoTransmissionThatBeginsAMomentLaterForOneThatWasKeptOff) {
    const std::vector<std::string> sensitive{"--set", "anti_trip.margin_db=0"};
    const auto outcome = run({"explain", evening, "42.3", sensitive[0], sensitive[1]});
    expect_part(outcome.out, "by its pitch alone, showed no mark of speech");
    EXPECT_EQ(outcome.out.find("A higher threshold"), std::string::npos) << outcome.out;
    const auto at = outcome.out.find("gate.open_dbfs ");
    ASSERT_NE(at, std::string::npos) << outcome.out;
    const std::string told = outcome.out.substr(at + 24, 24);
    const std::string value = told.substr(0, told.find(" instead"));
    EXPECT_EQ(run({"explain", evening, "42.3", sensitive[0], sensitive[1], "--set", "gate.open_dbfs=" + value}).out.find("keyed, from 42."),
              std::string::npos) << value;
}

TEST(Explain, TakesTheNextTransmissionAMomentSoonerForNoneThatWasMissing) {
    const auto outcome = run({"explain", evening, "11.0"});
    expect_part(outcome.out, "Then it keyed: decided at 11.288 s");
    EXPECT_EQ(outcome.out.find("transmissions so far"), std::string::npos) << outcome.out;
}

TEST(Explain, OfSwappedChannelsPointsToInspectWhichCanTell) {
    const auto swapped = run({"explain", evening, "0:12", "--microphone-channel", "2", "--receiver-channel", "1"});
    EXPECT_EQ(swapped.code, 0) << swapped.err;
    expect_part(swapped.err, "the channels look swapped, and what follows would be wrong; see tripline inspect testdata/evening.flac");
    const auto twice = run({"explain", evening, "--receiver-channel", "1"});
    expect_part(twice.err, "microphone and receiver carry the same sound");
    EXPECT_EQ(run({"explain", evening, "0:12"}).err.find("note: "), std::string::npos);
    EXPECT_EQ(run({"explain", evening, "0:12", "--no-receiver"}).err.find("note: "), std::string::npos);
}

TEST(Explain, RefusesAMomentThatIsNone) {
    for (const char* time : {"soon", "-1", "1:60", "1.5:00", "1:2:3:4", "inf"}) {
        const auto outcome = run({"explain", evening, "--", time});
        EXPECT_EQ(outcome.code, 2) << time;
        expect_part(outcome.err, "is not a time");
    }
    expect_part(run({"explain", evening, "1:00:00"}).err, "testdata/evening.flac: ends at 55.0 s, before 1:00:00");
    expect_part(run({"explain", "none.wav"}).err, "none.wav: there is no such file");
}

TEST(Explain, WantsARecordingOrAMomentOfARunningStation) {
    expect_part(run({"explain"}).err, "FILE is required. A running station is explained from");
    expect_part(run({"explain", "0:32", "--socket", "/none"}).err, "/none");
    expect_part(run({"explain", "25:00:00"}).err, "as a time of day not H:MM or H:MM:SS (UTC)");
    for (const char* no_time : {"25:61:00", "9:75", "1:2:3:4"})
        expect_part(run({"explain", no_time}).err, std::string(no_time) + " is no file, and as a time of day not H:MM or H:MM:SS (UTC)");
    expect_part(run({"explain", "0:32", "--memory", "a.memory"}).err, "a running station writes its own");
    expect_part(run({"explain", evening, "--ago", "0:10"}).err, "--ago goes without FILE and TIME");
    expect_part(run({"explain", "--ago", "soon"}).err, "soon: is not a time");
}

TEST(Explain, FindsARunningStationByItsSettingsFile) {
    const std::string file = testing::TempDir() + "explained_station.toml";
    std::ofstream(file) << "control.socket = \"/none/of/this\"\n";
    for (const auto& moment : {std::vector<std::string>{"0:32"}, std::vector<std::string>{"--ago", "0:10"}}) {
        std::vector<std::string> words{"explain", "--config", file};
        words.insert(words.end(), moment.begin(), moment.end());
        const auto outcome = run(words);
        EXPECT_EQ(outcome.code, 2);
        expect_part(outcome.err, "/none/of/this");
    }
    expect_part(run({"explain", "--ago", "0:10", "--config", file, "--socket", "/other"}).err, "--socket");
}

TEST(AMomentOfTheDay, IsTheLastOneThatHasBeen) {
    const auto now = *logbook::time_of("2026-11-26T09:30:00.000Z");
    const auto last = [&](const char* text) {
        const auto found = last_time_of_day(text, now);
        return found ? logbook::time_text(*found) : std::string("none");
    };
    EXPECT_EQ(last("9:30"), "2026-11-26T09:30:00.000Z");
    EXPECT_EQ(last("09:29:59.5"), "2026-11-26T09:29:59.500Z");
    EXPECT_EQ(last("9:31"), "2026-11-25T09:31:00.000Z");
    EXPECT_EQ(last("23:59:59"), "2026-11-25T23:59:59.000Z");
    for (const char* none : {"24:00", "9", "9:60", "noon", ""}) EXPECT_EQ(last(none), "none") << none;
}

TEST(AMomentOfTheDay, IsLookedForInAllThatWasWritten) {
    const auto at = [](const char* time) { return *logbook::time_of(std::string("2026-11-26T") + time + ".000Z"); };
    const std::vector<Written> written{{"earlier.flac", at("09:20:00"), at("09:24:00")}, {"now.flac", at("09:24:05"), at("09:26:00")}};
    EXPECT_EQ(covering(written, at("09:21:00")).sound, "earlier.flac");
    EXPECT_EQ(covering(written, at("09:26:00")).sound, "now.flac");
    try {
        covering(written, at("09:24:03"));
        FAIL();
    } catch (const std::runtime_error& error) {
        EXPECT_STREQ(error.what(), "09:24:03 is not among what the station keeps: 09:20:00 to 09:24:00 and 09:24:05 to 09:26:00 (UTC)");
    }
}

TEST(ATimeOfACommandLine, IsSecondsOrMinutesOrHours) {
    using std::chrono_literals::operator""ms;
    EXPECT_EQ(time_in("754.25"), Duration(754250ms));
    EXPECT_EQ(time_in("12:34.25"), Duration(754250ms));
    EXPECT_EQ(time_in("1:02:03"), Duration(3723000ms));
}

TEST(ATimeAgo, IsMeantToATenthOfItUnlessItHasAPoint) {
    using std::chrono_literals::operator""ms;
    EXPECT_EQ(exactness_of("0:40"), Duration(4000ms));
    EXPECT_EQ(exactness_of("2:00"), Duration(12000ms));
    EXPECT_EQ(exactness_of("3"), Duration(1000ms));
    EXPECT_EQ(exactness_of("0"), Duration(1000ms));
    EXPECT_EQ(exactness_of("0:40.0"), Duration::zero());
}

}  // namespace
}  // namespace tripline::cli
