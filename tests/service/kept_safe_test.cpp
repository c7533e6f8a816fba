// What the next start is to know.
#include "daemon/service/kept_safe.h"

#include "tests/temporary_folder.h"

#include <gtest/gtest.h>

#include <fstream>

namespace tripline::service {
namespace {

struct TheKeptSafe : testing::Test {
    TemporaryFolder folder;
    std::string place = folder.path().string();
};

TEST_F(TheKeptSafe, IsThereForTheNextStartUntilTheStationIsArmed) {
    EXPECT_FALSE(KeptSafe(place).kept());
    EXPECT_EQ(KeptSafe(place).keep(true), "");
    EXPECT_TRUE(KeptSafe(place).kept());
    EXPECT_EQ(KeptSafe(place).keep(false), "");
    EXPECT_FALSE(KeptSafe(place).kept());
}

TEST_F(TheKeptSafe, TellsWhyItCouldNotBeKept) {
    EXPECT_NE(KeptSafe(place + "/none").keep(true).find("/none/safe: No such file"), std::string::npos);
}

TEST_F(TheKeptSafe, IsTriedAgainAfterItFailed) {
    KeptSafe later(place + "/later");
    EXPECT_NE(later.keep(true), "");
    std::filesystem::create_directory(place + "/later");
    EXPECT_EQ(later.keep(true), "");
    EXPECT_TRUE(KeptSafe(place + "/later").kept());
    EXPECT_EQ(later.keep(false), "");
    EXPECT_FALSE(KeptSafe(place + "/later").kept());
}

TEST_F(TheKeptSafe, FollowsNoLink) {
    std::ofstream(place + "/other") << "kept";
    std::filesystem::create_symlink(place + "/elsewhere", place + "/safe");
    EXPECT_FALSE(KeptSafe(place).kept());
    EXPECT_NE(KeptSafe(place).keep(true), "");
    EXPECT_FALSE(std::filesystem::exists(place + "/elsewhere"));
}

TEST(TheKeptSafeWithoutAFolder, KeepsNothing) {
    KeptSafe nowhere("");
    EXPECT_EQ(nowhere.keep(true), "");
    EXPECT_FALSE(nowhere.kept());
}

}  // namespace
}  // namespace tripline::service
