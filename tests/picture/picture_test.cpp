// What the picture of a replay has to show.
#include "daemon/picture/replay_picture.h"

#include <gtest/gtest.h>

namespace tripline::picture {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

std::size_t count(const std::string& text, const std::string& word) {
    std::size_t found = 0;
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++found;
    return found;
}

replay::Spell spell(Duration from, Duration to) { return {from, from, to, station::Reason::silence}; }

class ThePicture : public testing::Test {
protected:
    std::string draw(const replay::Spans& speech, std::vector<replay::Spell> spells, Duration length = 60s) {
        replay::Result result;
        result.file = "a<b>.flac";
        result.length = length;
        result.spells = std::move(spells);
        result.timing.hold = 1000ms;
        result.score = replay::score(speech, result.spells, result.timing, length);
        Columns columns(picture_columns, {48000});
        for (std::int64_t at = 24; at <= 48000; at += 24) columns.take({at}, {});
        return replay_picture(result, speech, columns);
    }
};

TEST_F(ThePicture, MarksEachKindOfMistakeByLetterAndWord) {
    const auto svg = draw({{5s, 6s}, {20s, 22s}, {40s, 41s}, {50s, 54s}},
                          {spell(10s, 12s), spell(20s + 150ms, 30s), spell(40s, 42s), spell(50s, 51s)});
    EXPECT_NE(svg.find(">M<"), std::string::npos);
    EXPECT_NE(svg.find("M  missed, 5.00 to 6.00 s"), std::string::npos) << svg;
    EXPECT_NE(svg.find("F  false key, 10.00 to 12.00 s"), std::string::npos);
    EXPECT_NE(svg.find("C  clipped, 20.00 to 20.15 s"), std::string::npos);
    EXPECT_NE(svg.find("H  held on, 23.00 to 30.00 s"), std::string::npos);
    EXPECT_NE(svg.find("T  torn, 50.00 to 54.00 s"), std::string::npos);
    EXPECT_EQ(count(svg, "class=\"mistake\""), 5U);
    EXPECT_EQ(count(svg, "class=\"speech\""), 4U);
    EXPECT_EQ(count(svg, "class=\"keyed\""), 4U);
}

TEST_F(ThePicture, EscapesTheNameOfTheFile) {
    const auto svg = draw({}, {});
    EXPECT_EQ(svg.find("a<b>"), std::string::npos);
    EXPECT_NE(svg.find("a&lt;b&gt;.flac: 60.0 s, keyed 0 times; 0 overs"), std::string::npos);
}

TEST_F(ThePicture, ListsSomeOfVeryManyMistakesAndCountsTheRest) {
    std::vector<replay::Spell> spells;
    for (int i = 0; i < 300; ++i) spells.push_back(spell(i * 10s, i * 10s + 2s));
    const auto svg = draw({}, std::move(spells), 3600s);
    EXPECT_EQ(count(svg, "false key, "), 45U);
    EXPECT_NE(svg.find("and 255 more"), std::string::npos);
    EXPECT_EQ(count(svg, "class=\"mistake\""), 300U);
}

}  // namespace
}  // namespace tripline::picture
