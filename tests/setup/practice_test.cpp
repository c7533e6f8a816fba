// The shipped recording to practise setup on, as its notes and the manual use it.
#include "tests/cli/run.h"

#include <gtest/gtest.h>

namespace tripline::setup {
namespace {

TEST(ThePracticeRecording, IsMeasuredAsItsNotesSayAndGivesSettingsThatReplayWell) {
    const auto outcome = cli::run({"setup", "testdata/practice.flac", "--room", "0-6.5", "--receiver", "7-16", "--voice", "17-23.5", "--soft", "25-30"});
    EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
    for (const char* part : {"its delay                       5.0 ms", "Distances, in the voice band:\n", "voice over receiver's leak      5.6 dB",
                             "Where tripline tune advises another anti_trip.coupling_db, trust tune's if its map shows an edge on both sides of it",
                             "The receiver's take is under 10 s, too short to tell a voice in it", "the receiver keys nothing", "the soft voice keys", "\nmethod = \"echo\""})
        EXPECT_NE(outcome.out.find(part), std::string::npos) << part << "\nis not in\n" << outcome.out;
    EXPECT_EQ(outcome.out.find("TROUBLE"), std::string::npos) << outcome.out;
}

TEST(AReceiversTake, OfTenSecondsIsNotCalledShort) {
    const auto outcome = cli::run({"setup", "testdata/practice.flac", "--room", "0-6.5", "--receiver", "7-17", "--voice", "17-23.5", "--soft", "25-30"});
    EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
    EXPECT_EQ(outcome.out.find("under 10 s"), std::string::npos) << outcome.out;
}

}  // namespace
}  // namespace tripline::setup
