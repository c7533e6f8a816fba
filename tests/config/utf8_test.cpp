#include "config/utf8.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

// The sequences of the Unicode standard, chapter 3: table 3-7 and the examples under it.
TEST(Utf8, IsTakenFromEveryRowOfTheTable) {
    for (const std::string text : {"", "a", "\x7F", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80",
                                   "\xEC\xBF\xBF", "\xED\x9F\xBF", "\xEE\x80\x80", "\xEF\xBF\xBF",
                                   "\xF0\x90\x80\x80", "\xF3\xBF\xBF\xBF", "\xF4\x8F\xBF\xBF"}) {
        EXPECT_EQ(well_formed_utf8(text), text.size());
    }
}

TEST(Utf8, IsNotOverlongNorASurrogateNorBeyondTheLastCharacterNorCutShort) {
    for (const std::string text :
         {"\x80", "\xC0\xAF", "\xC1\xBF", "\xE0\x9F\x80", "\xED\xA0\x80", "\xF0\x8F\x80\x80",
          "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF", "\xC2", "\xE1\x80", "\xF1\x80\x80",
          "\xC2 ", "\xE1\x80 "}) {
        EXPECT_EQ(well_formed_utf8("ok " + text), 3U);
    }
}

}  // namespace
}  // namespace tripline::config
