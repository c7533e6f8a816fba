// The map as text and as a picture.
#include "daemon/tune/map_view.h"
#include "tests/tune/drawn_map.h"

#include <gtest/gtest.h>

namespace tripline::tune {
namespace {

TEST(TheMap, IsReadableAsText) {
    auto map = drawn({"1...9", "1...9", "1...9"});
    map.cells[4].missed = 12;
    EXPECT_EQ(map_text(map, *most_robust(map)),
              "anti_trip.coupling_db upwards, gate.open_dbfs to the right\n"
              "-16 1  .  .  .  9 \n"
              "-18 1  . [.] .  9 \n"
              "-20 1  .  .  .  + \n"
              "    -60         -44\n");
    EXPECT_EQ(in_words(map, *most_robust(map)),
              "gate.open_dbfs = -52: may move by 4 down, 4 up\n"
              "anti_trip.coupling_db = -18: may move by 2 down (the map ends there), 2 up (the map ends there)\n");
}

TEST(TheMap, IsDrawnWithACellAPair) {
    const auto map = drawn({"1...9", "1...9", "1...9"});
    const auto svg = map_picture(map, *most_robust(map));
    std::size_t cells = 0;
    for (auto at = svg.find("<rect"); at != std::string::npos; at = svg.find("<rect", at + 1)) ++cells;
    EXPECT_EQ(cells, 15U + 2U);   // the paper and the choice
    EXPECT_NE(svg.find("class=\"choice\""), std::string::npos);
    EXPECT_NE(svg.find(">9</text>"), std::string::npos);
}

}  // namespace
}  // namespace tripline::tune
