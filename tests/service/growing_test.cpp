#include "daemon/service/growing.h"

#include <gtest/gtest.h>

namespace tripline::service {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

TEST(AGrowingCounter, IsNotWorthALineWhileItStandsStill) {
    Growing growing;
    EXPECT_FALSE(growing.due(0, 0s));
    EXPECT_TRUE(growing.due(3, 1s));
    EXPECT_FALSE(growing.due(3, 100s));
}

TEST(AGrowingCounter, ThatGrowsAllTheTimeIsToldEverMoreSeldom) {
    Growing growing;
    int lines = 0;
    for (int i = 1; i <= 3'600'000 / 20; ++i) lines += growing.due(static_cast<std::uint64_t>(i), i * 20ms) ? 1 : 0;
    EXPECT_GE(lines, 10);
    EXPECT_LE(lines, 13) << "1 s, 2 s, 4 s ... within an hour";
}

}  // namespace
}  // namespace tripline::service
