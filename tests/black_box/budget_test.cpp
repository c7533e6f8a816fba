// Captures make room for each other, and for nothing else.
#include "daemon/black_box/budget.h"
#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

namespace tripline::black_box {
namespace {

namespace fs = std::filesystem;

class TheBudget : public testing::Test {
protected:
    void write(const std::string& name, std::size_t bytes) { std::ofstream(folder_ / name) << std::string(bytes, 'x'); }
    bool there(const std::string& name) { return fs::exists(folder_ / name); }
    TemporaryFolder folder_;
};

TEST_F(TheBudget, LetsTheOldestCapturesGoWholeUntilThereIsRoom) {
    write("capture-20261124-100000-missed.flac", 400);
    write("capture-20261124-100000-missed.txt", 100);
    write("capture-20261125-100000-false.flac", 300);
    EXPECT_TRUE(make_room(folder_.path(), 1000, 300));
    EXPECT_FALSE(there("capture-20261124-100000-missed.flac"));
    EXPECT_FALSE(there("capture-20261124-100000-missed.txt"));
    EXPECT_TRUE(there("capture-20261125-100000-false.flac"));
}

TEST_F(TheBudget, KeepsTheNewestThoughTheClockWasSetBackBeforeIt) {
    write("capture-20261124-100000-missed.flac", 100);
    write(numbered_prefix(next_number(folder_.path())) + "20261125-100000-time-out.flac", 400);
    write(numbered_prefix(next_number(folder_.path())) + "19700101-000012-missed.flac", 400);
    EXPECT_TRUE(make_room(folder_.path(), 1000, 300));
    EXPECT_FALSE(there("capture-20261124-100000-missed.flac"));
    EXPECT_FALSE(there("capture-000001-20261125-100000-time-out.flac"));
    EXPECT_TRUE(there("capture-000002-19700101-000012-missed.flac"));
}

TEST_F(TheBudget, CountsOnAfterTheHighestNumberThereWhateverElseIsThere) {
    EXPECT_EQ(next_number(folder_.path()), 1U);
    write("capture-20261124-100000-missed.flac", 1);
    write("capture-99999999999999999999999-20261124-1.flac", 1);
    write("capture-mine.flac", 1);
    EXPECT_EQ(next_number(folder_.path()), 1U);
    write("capture-1000000-20261124-100000-missed.txt", 1);
    write("capture-000007-20261124-100000-missed.txt", 1);
    EXPECT_EQ(next_number(folder_.path()), 1000001U);
}

TEST_F(TheBudget, TouchesNothingWhileThereIsRoom) {
    write("capture-20261124-100000-missed.flac", 400);
    EXPECT_TRUE(make_room(folder_.path(), 1000, 600));
    EXPECT_TRUE(there("capture-20261124-100000-missed.flac"));
}

TEST_F(TheBudget, LeavesOtherFilesAlone) {
    write("evening.flac", 5000);
    write("capture-20261124-100000-missed.flac", 900);
    EXPECT_TRUE(make_room(folder_.path(), 1000, 1000));
    EXPECT_TRUE(there("evening.flac"));
    EXPECT_FALSE(there("capture-20261124-100000-missed.flac"));
}

TEST_F(TheBudget, DeletesNothingForWhatCannotFit) {
    write("capture-20261124-100000-missed.flac", 900);
    EXPECT_FALSE(make_room(folder_.path(), 1000, 1001));
    EXPECT_TRUE(there("capture-20261124-100000-missed.flac"));
}

}  // namespace
}  // namespace tripline::black_box
