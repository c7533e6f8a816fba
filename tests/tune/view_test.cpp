// The map as text and as a picture.
#include "daemon/tune/map_view.h"
#include "tests/tune/drawn_map.h"

#include <gtest/gtest.h>

namespace tripline::tune {
namespace {

constexpr InForce outside{-70, 6};

TEST(TheMap, IsReadableAsText) {
    auto map = drawn({"1...9", "1...9", "1...9"});
    map.cells[4].score.missed = 12;
    EXPECT_EQ(map_text(map, *most_robust(map), outside),
              "anti_trip.coupling_db upwards, gate.open_dbfs to the right\n"
              "-16 1  .  .  .  9 \n"
              "-18 1  . [.] .  9 \n"
              "-20 1  .  .  .  + \n"
              "    -60         -44\n"
              ". no mistake, else how many, + more than nine\n"
              "[ ] the choice; outside the map is what is in force: gate.open_dbfs = -70, anti_trip.coupling_db = 6\n");
    EXPECT_EQ(in_words(map, *most_robust(map)),
              "gate.open_dbfs = -52: may move by 4 dB down, 4 dB up\n"
              "anti_trip.coupling_db = -18: may move by at least 2 dB down (the map ends there), at least 2 dB up (the map ends there)\n");
}

TEST(TheMap, TellsWhatASettingWasGivenUpFor) {
    const auto map = drawn({"f...m", "t...m", "h...m"});
    const auto choice = *most_robust(map);
    EXPECT_EQ(map_text(map, choice, outside),
              "anti_trip.coupling_db upwards, gate.open_dbfs to the right\n"
              "-16 f  .  .  .  m \n"
              "-18 t  . [.] .  m \n"
              "-20 h  .  .  .  m \n"
              "    -60         -44\n"
              ". no mistake, else what it was given up for: f false key, h held on, m missed over, t torn over\n"
              "[ ] the choice; outside the map is what is in force: gate.open_dbfs = -70, anti_trip.coupling_db = 6\n");
    for (const char* letter : {">f</text>", ">m</text>", ">t</text>", ">h</text>"})
        EXPECT_NE(map_picture(map, choice, outside).find(letter), std::string::npos) << letter;
}

/// Row by row and what the brackets mean, of a map whose choice is -52, -18.
std::string shown_with(const InForce& now) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    const std::string text = map_text(map, *most_robust(map), now);
    const auto rows = text.find("-16 ");
    const auto legend = text.find("[ ] ");
    return text.substr(rows, text.find("    -60") - rows) + text.substr(legend);
}

TEST(TheMap, MarksThePairNearestToWhatIsInForce) {
    EXPECT_EQ(shown_with({-56, -16}), "-16 1 (.) .  .  9 \n-18 1  . [.] .  9 \n-20 1  .  .  .  9 \n"
                                      "[ ] the choice, ( ) in force: gate.open_dbfs = -56, anti_trip.coupling_db = -16\n");
    EXPECT_EQ(shown_with({-45, -19.5}), "-16 1  .  .  .  9 \n-18 1  . [.] .  9 \n-20 1  .  .  . (9)\n"
                                        "[ ] the choice, ( ) nearest to what is in force: gate.open_dbfs = -45, anti_trip.coupling_db = -19.5\n");
    EXPECT_EQ(shown_with({-52, -18}), "-16 1  .  .  .  9 \n-18 1  . [.] .  9 \n-20 1  .  .  .  9 \n[ ] the choice, which is in force\n");
    EXPECT_EQ(shown_with({-51, -18}), "-16 1  .  .  .  9 \n-18 1  . [.] .  9 \n-20 1  .  .  .  9 \n"
                                      "[ ] the choice, nearest to what is in force: gate.open_dbfs = -51, anti_trip.coupling_db = -18\n");
}

TEST(TheMap, IsFollowedByWhatTheSettingsInForceThemselvesMade) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    EXPECT_EQ(in_force_in_words(map, {-45, -19.5}, {}), "in force, gate.open_dbfs = -45, anti_trip.coupling_db = -19.5: no mistake\n");
    replay::Score score;
    score.torn = 2;
    score.false_keys = 1;
    EXPECT_EQ(in_force_in_words(map, {-70, 6}, score), "in force, gate.open_dbfs = -70, anti_trip.coupling_db = 6: 2 torn, 1 keyed falsely\n");
}

TEST(TheMap, DrawsWhatIsInForceWithDots) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    EXPECT_NE(map_picture(map, *most_robust(map), {-56, -16}).find("class=\"now\""), std::string::npos);
    EXPECT_EQ(map_picture(map, *most_robust(map), outside).find("class=\"now\""), std::string::npos);
}

TEST(TheMap, IsDrawnWithACellAPair) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    const auto svg = map_picture(map, *most_robust(map), outside);
    std::size_t cells = 0;
    for (auto at = svg.find("<rect"); at != std::string::npos; at = svg.find("<rect", at + 1)) ++cells;
    EXPECT_EQ(cells, 15U + 2U);   // the paper and the choice
    EXPECT_NE(svg.find("class=\"choice\""), std::string::npos);
    EXPECT_NE(svg.find(">9</text>"), std::string::npos);
}

TEST(TheMap, HasRoomForWhatItSays) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    const auto svg = map_picture(map, *most_robust(map), outside);
    constexpr double width = 640 - 90;   // right of the left edge
    std::size_t lines = 0;
    for (auto at = svg.find("class=\"key\">"); at != std::string::npos; at = svg.find("class=\"key\">", at + 1)) {
        const auto text = svg.substr(at + 12, svg.find('<', at) - at - 12);
        EXPECT_LE(static_cast<double>(text.size()) * 6.5, width) << text;   // of 12 px, sans-serif
        ++lines;
    }
    EXPECT_EQ(lines, 4U);
}

std::size_t count_of(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

TEST(TheMap, OutlinesTheRegionAndTellsTheDistanceToEachEdge) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    const auto svg = map_picture(map, *most_robust(map), outside);
    EXPECT_EQ(count_of(svg, "class=\"edge\""), 6U);   // three rows, left and right
    EXPECT_EQ(count_of(svg, "class=\"end\""), 6U);    // three columns, above and below
    EXPECT_EQ(count_of(svg, "class=\"room\""), 4U);
    EXPECT_EQ(count_of(svg, ">4 dB</text>"), 2U);
    EXPECT_EQ(count_of(svg, ">at least 2 dB</text>"), 2U);
}

TEST(TheMap, KnowsTheUnitsOfItsAxes) {
    EXPECT_EQ((Axis{"gate.open_dbfs", {}}.unit()), "dB");
    EXPECT_EQ((Axis{"gate.hold_ms", {}}.unit()), "ms");
    EXPECT_EQ((Axis{"band.low_hz", {}}.unit()), "Hz");
    EXPECT_EQ((Axis{"voices", {}}.unit()), "");
}

}  // namespace
}  // namespace tripline::tune
