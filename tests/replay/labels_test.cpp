#include "daemon/replay/labels.h"
#include "daemon/replay/read_events.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <sys/stat.h>

#include <sstream>

namespace tripline::replay {
namespace {

using std::chrono_literals::operator""ms;

std::vector<Label> parse(const std::string& text) {
    std::istringstream stream(text);
    return parse_labels(stream, "over.rttm");
}

std::string complaint(const std::string& text) {
    try {
        parse(text);
    } catch (const std::runtime_error& error) {
        return error.what();
    }
    return "none";
}

TEST(Labels, AreReadFromTheTenFieldsOfRttm) {
    const auto labels = parse("SPEAKER evening 1 2.500 1.250 <NA> <NA> marta <NA> <NA>\r\n");
    ASSERT_EQ(labels.size(), 1U);
    EXPECT_EQ(labels[0], (Label{"evening", 1, 2500ms, 1250ms, "marta"}));
}

TEST(Labels, MayBeSetApartByBlankLinesAndComments) {
    EXPECT_TRUE(parse(";; nobody speaks here\n\n   \n").empty());
}

TEST(Labels, SurviveBeingWrittenAndRead) {
    const std::vector<Label> labels{{"a", 1, 1ms, 999ms, "near"}, {"b", 2, 3600000ms, 1ms, "far"}};
    std::ostringstream text;
    write_labels(text, labels);
    EXPECT_EQ(parse(text.str()), labels);
}

TEST(Labels, ThatAreWrongAreRefusedWithLineAndReason) {
    const std::string good = "SPEAKER f 1 0 1 <NA> <NA> n <NA> <NA>\n";
    EXPECT_EQ(complaint(good + "SPEAKER f 1 0 1 <NA> <NA> n <NA>\n"),
              "over.rttm:2: 10 fields expected, 9 found");
    EXPECT_EQ(complaint("LEXEME f 1 0 1 <NA> <NA> n <NA> <NA>"),
              "over.rttm:1: type \"LEXEME\" is not SPEAKER");
    EXPECT_EQ(complaint("SPEAKER f 0 0 1 <NA> <NA> n <NA> <NA>"),
              "over.rttm:1: channel \"0\" is not a number from 1 to 1024");
    EXPECT_EQ(complaint("SPEAKER f 1 1,5 1 <NA> <NA> n <NA> <NA>"),
              "over.rttm:1: onset \"1,5\" is not a number of seconds");
    EXPECT_EQ(complaint("SPEAKER f 1 0 -1 <NA> <NA> n <NA> <NA>"),
              "over.rttm:1: duration \"-1\" is negative");
    EXPECT_EQ(complaint("SPEAKER f 1 nan 1 <NA> <NA> n <NA> <NA>"),
              "over.rttm:1: onset \"nan\" is not a number of seconds");
    EXPECT_EQ(complaint("SPEAKER f 1 1e300 1 <NA> <NA> n <NA> <NA>"),
              "over.rttm:1: onset \"1e300\" is too large");
}

TEST(Labels, ThatAreNotThereAreRefusedByName) {
    EXPECT_THROW(read_labels("/nowhere/over.rttm"), std::runtime_error);
    EXPECT_THROW(read_labels("/"), std::runtime_error);
}

/// What is said of a pipe that nobody writes to, and of a device that has no end.
template <typename Read> void expect_refused_at_once(Read read) {
    const TemporaryFolder folder;
    const std::filesystem::path pipe = folder / "pipe";
    ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    for (const auto& file : {pipe, std::filesystem::path("/dev/zero")}) {
        try {
            read(file);
            ADD_FAILURE() << file;
        } catch (const std::runtime_error& error) {
            EXPECT_EQ(error.what(), file.string() + ": can't be read: it is not a regular file");
        }
    }
}

TEST(Labels, InAPipeOrADeviceAreNotWaitedFor) { expect_refused_at_once(read_labels); }

TEST(Events, InAPipeOrADeviceAreNotWaitedFor) { expect_refused_at_once(read_events); }

}  // namespace
}  // namespace tripline::replay
