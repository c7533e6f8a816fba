// A change is advised where an edge was seen, and nowhere else.
#include "daemon/tune/advice.h"
#include "tests/tune/drawn_map.h"

#include <gtest/gtest.h>

namespace tripline::tune {
namespace {

/// Across from -60 in steps of 4, up from -20 in steps of 2.
Advice advised(const Map& map, const InForce& now) { return advise(map, *most_robust(map), now); }

TEST(Advice, IsToChangeNothingWhenTheMapShowsNoEdge) {
    const auto map = drawn({".....", ".....", "....."});
    const Advice advice = advised(map, {-50, 6});
    EXPECT_FALSE(advice.across);
    EXPECT_FALSE(advice.up);
    EXPECT_EQ(what_stays(map, *most_robust(map), {-50, 6}, advice),
              "gate.open_dbfs: with anti_trip.coupling_db = -18, from -60 to -44, no edge is seen, so the map does not tell what it should be there; -50 stays\n"
              "anti_trip.coupling_db: with gate.open_dbfs = -52, from -20 to -16, no edge is seen, so the map does not tell what it should be there; 6 stays\n");
}

TEST(Advice, NamesTheLineInWhichNoEdgeIsSeenWhereTheMapShowsOneElsewhere) {
    const auto map = drawn({".....", ".....", ".....", ".....", "f...."});
    const InForce now{-52, -16};
    const std::string stays = what_stays(map, *most_robust(map), now, advised(map, now));
    EXPECT_NE(stays.find("gate.open_dbfs: with anti_trip.coupling_db = -16, from -60 to -44, no edge is seen"), std::string::npos) << stays;
}

TEST(Advice, IsTheMiddleBetweenTwoEdges) {
    const Advice advice = advised(drawn({"9...9", "9...9", "9...9"}), {-50, -16});
    EXPECT_EQ(advice.across, -52);
    EXPECT_FALSE(advice.up);
}

TEST(Advice, MovesAwayFromAnEdgeButNeverTowardsOneForTheSakeOfTheMapsEnd) {
    const auto map = drawn({".....", ".....", ".....", ".....", "99999"});
    EXPECT_EQ(advised(map, {-50, -18}).up, -16) << "it stood next to the edge";
    EXPECT_FALSE(advised(map, {-50, 6}).up) << "more coupling than the choice is further from the edge";
    const Advice advice = advised(map, {-50, 6});
    EXPECT_NE(what_stays(map, *most_robust(map), {-50, 6}, advice).find("only on the lower side; 6 is no nearer"), std::string::npos);
}

TEST(Advice, IsTheWholeChoiceWhenWhatWouldStayMakesAMistake) {
    const auto map = drawn({"....9", "9....", "....."});
    const auto choice = most_robust(map);
    ASSERT_TRUE(choice);
    const InForce now{-44, -16};
    ASSERT_FALSE(map.good(4, 2));
    const Advice advice = advise(map, {.column = 2, .row = 1, .left = {8, true}, .right = {8, true}, .down = {2, true}, .up = {2, true}}, now);
    EXPECT_EQ(advice.across, -52);
    EXPECT_EQ(advice.up, -18);
}

TEST(TheCoupling, IsToBeTrustedBesideSetupsOnlyBetweenTwoEdges) {
    InForce now{-52, 6};
    const auto beside = [&now](const Map& map) {
        const auto choice = *most_robust(map);
        return beside_setup(map, choice, now, advise(map, choice, now));
    };
    const Map between = drawn({"999", "...", "...", "...", "999"});
    EXPECT_NE(beside(between).find("Take this anti_trip.coupling_db, with mistakes counted on both sides"), std::string::npos);
    now.up = whole(between, *most_robust(between)).up.value();
    EXPECT_NE(beside(between).find("Keep this anti_trip.coupling_db, with mistakes counted on both sides"), std::string::npos);
    now.up = 6;
    EXPECT_NE(beside(drawn({"...", "...", "...", "...", "999"})).find("trust setup's, which it measured"), std::string::npos);
    EXPECT_NE(beside(drawn({"...", "...", "..."})).find("trust setup's, which it measured"), std::string::npos);
    now.up = -18;
    const std::string away = beside(drawn({"...", "...", "...", "...", "999"}));
    EXPECT_NE(away.find("Take this anti_trip.coupling_db also where tripline setup found the one in force"), std::string::npos) << away;
    EXPECT_EQ(away.find("trust setup's"), std::string::npos) << "one advice: " << away;
    Map other = drawn({"999", "...", "...", "...", "999"});
    other.up.key = "gate.hold_ms";
    EXPECT_EQ(beside(other), "");
    Map across = drawn({"9...9", "9...9", "9...9"});
    std::swap(across.across.key, across.up.key);
    EXPECT_NE(beside(across).find("with mistakes counted on both sides"), std::string::npos);
}

}  // namespace
}  // namespace tripline::tune
