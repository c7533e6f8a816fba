// The most robust setting, not the luckiest.
#include "daemon/tune/robust.h"
#include "tests/tune/drawn_map.h"

#include <gtest/gtest.h>

namespace tripline::tune {
namespace {

TEST(TheMostRobustSetting, StandsInTheMiddleOfWhatIsGood) {
    const auto choice = most_robust(drawn({"1111111",
                                           "1.....1",
                                           "1.....1",
                                           "1.....1",
                                           "1.....1",
                                           "1.....1",
                                           "1111111"}));
    ASSERT_TRUE(choice);
    EXPECT_EQ(choice->column, 3U);
    EXPECT_EQ(choice->row, 3U);
    EXPECT_EQ(choice->left.amount, 8);    // two cells of 4
    EXPECT_EQ(choice->right.amount, 8);
    EXPECT_EQ(choice->down.amount, 4);    // two cells of 2
    EXPECT_EQ(choice->up.amount, 4);
    EXPECT_FALSE(choice->left.to_the_edge);
}

TEST(TheMostRobustSetting, IsNotALuckyCellNorACorridor) {
    const auto choice = most_robust(drawn({"9.99999",
                                           "99999..",
                                           "....9..",
                                           "9999999",
                                           "9...999",
                                           "9...999",
                                           "9...999"}));
    ASSERT_TRUE(choice);
    EXPECT_EQ(choice->column, 2U);
    EXPECT_EQ(choice->row, 1U);
}

TEST(TheMostRobustSetting, DoesNotTrustTheEndOfTheMap) {
    const auto choice = most_robust(drawn({"...9", "...9", "...9"}));
    ASSERT_TRUE(choice);
    EXPECT_EQ(choice->column, 1U);
    EXPECT_EQ(choice->row, 1U);
    EXPECT_TRUE(choice->left.to_the_edge);
    EXPECT_TRUE(choice->up.to_the_edge);
    EXPECT_FALSE(choice->right.to_the_edge);
    EXPECT_EQ(choice->right.amount, 4);
}

TEST(TheMostRobustSetting, LiesMidwayInABand) {
    const auto choice = most_robust(drawn({"9.........9", "9.........9", "9.........9"}));
    ASSERT_TRUE(choice);
    EXPECT_EQ(choice->column, 5U);
}

TEST(TheMostRobustSetting, IsNoneWhenNothingIsGood) {
    const auto map = drawn({"345", "612"});
    EXPECT_FALSE(most_robust(map));
    EXPECT_EQ(least_bad(map).column, 1U);
    EXPECT_EQ(least_bad(map).row, 0U);
}

}  // namespace
}  // namespace tripline::tune
