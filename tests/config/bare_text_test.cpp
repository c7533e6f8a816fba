#include "config/bare_text.h"
#include "config/reader.h"

#include <gtest/gtest.h>

namespace tripline::config {
namespace {

// TOML 1.0.0, toml.abnf: non-ascii stands in comments and strings only.
TEST(BareText, MayHaveAnyCharacterInStringsAndComments) {
    for (const std::string text :
         {"", "a = 1 # hütte\n", "a = \"hütte\"", "a = 'hütte'\n", "'ä' = \"\"\n", "a = \"\\\"ä\"", "a = '\\'  # ä",
          "a = \"\"\"\nä\n\"\"\"", "a = '''ä\n'ä''' # ä", "a = \"\"\"ä\"\"\"\"\" # ä", "\xEF\xBB\xBF" "a = 1"}) {
        EXPECT_EQ(first_beyond_ascii(text), text.size()) << text;
    }
}

TEST(BareText, HasOnlyAsciiElsewhere) {
    const auto place = [](const std::string& text) { return text.substr(0, first_beyond_ascii(text)); };
    EXPECT_EQ(place("ä = 1"), "");
    EXPECT_EQ(place("a = ä"), "a = ");
    EXPECT_EQ(place("a = \"\" ä"), "a = \"\" ");
    EXPECT_EQ(place("a = '\\' ä"), "a = '\\' ");
    EXPECT_EQ(place("a = '''x'''' ä"), "a = '''x'''' ");
    EXPECT_EQ(place("a = \"ä\nb = ä"), "a = \"ä\nb = ");
    EXPECT_EQ(place("a = 1 # ä\nb = ä"), "a = 1 # ä\nb = ");
    EXPECT_EQ(place("a = \xEF\xBB\xBF"), "a = ");
}

// Found by fuzzing: toml++ 3.3 takes letters from U+00A1 to U+0499 for impossible after a sign of equality.
TEST(BareText, OfALetterIsAProblemOfItsLineAlone) {
    const auto reading = read_toml("[gate]\nhold_ms = \xD0\x9D" "3\nopen_dbfs = -30\n", "test");
    ASSERT_EQ(reading.problems.size(), 1U);
    EXPECT_EQ(reading.problems[0].at.line, 2);
    EXPECT_EQ(reading.problems[0].at.column, 11);
    EXPECT_EQ(reading.entries.size(), 1U);
}

}  // namespace
}  // namespace tripline::config
