// The document itself.
#include "daemon/picture/svg.h"
#include "daemon/picture/time_axis.h"
#include "daemon/picture/xml_text.h"

#include <gtest/gtest.h>

namespace tripline::picture {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;
using std::chrono_literals::operator""min;
using std::chrono_literals::operator""h;

// XML 1.0 (W3C), 2.2 and 2.4: markup characters are escaped; most control characters have no
// place at all.
TEST(XmlText, EscapesMarkupAndReplacesWhatXmlHasNoPlaceFor) {
    EXPECT_EQ(xml_text("a<b>&\"c\""), "a&lt;b&gt;&amp;&quot;c&quot;");
    EXPECT_EQ(xml_text("bell\x07 line\n"), "bell? line?");
    EXPECT_EQ(xml_text("sch\xc3\xb6n"), "sch\xc3\xb6n");
    EXPECT_EQ(xml_text("cut\xc3"), "cut?");
    EXPECT_EQ(xml_text("\xff\xfe"), "??");
}

TEST(Svg, WritesTenthsOfAPixelAndEscapesText) {
    Svg svg(100, 50.25, "a <title>", "rect{fill:none}");
    svg.rect({-0.04, 1.26, 3, 4}, "frame");
    svg.text({1, 2}, "1 < 2", "small", Anchor::end);
    EXPECT_EQ(svg.str(),
              "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"100\" height=\"50.3\" "
              "viewBox=\"0 0 100 50.3\">\n"
              "<title>a &lt;title&gt;</title>\n<style>rect{fill:none}</style>\n"
              "<rect x=\"0\" y=\"1.3\" width=\"3\" height=\"4\" class=\"frame\"/>\n"
              "<text x=\"1\" y=\"2\" text-anchor=\"end\" class=\"small\">1 &lt; 2</text>\n</svg>\n");
}

TEST(TheTimeAxis, HasAReadableNumberOfStepsForAnyLength) {
    for (const Duration length : {Duration(20ms), Duration(5s), Duration(55s), Duration(10min), Duration(1h),
                                  Duration(10h), Duration(200h)}) {
        const auto steps = length / TimeAxis({0, 0, 1000, 100}, length).step();
        EXPECT_GE(steps, 4) << replay::to_seconds(length);
        EXPECT_LE(steps, 14) << replay::to_seconds(length);
    }
}

TEST(TheTimeAxis, ShowsTimesAsAClockDoes) {
    EXPECT_EQ(clock_text(500ms, 500ms), "0.5 s");
    EXPECT_EQ(clock_text(20ms, 5ms), "0.020 s");
    EXPECT_EQ(clock_text(5s, 5s), "5 s");
    EXPECT_EQ(clock_text(65s, 5s), "1:05");
    EXPECT_EQ(clock_text(1h + 2min, 2min), "1:02:00");
}

TEST(TheTimeAxis, KeepsAShortSpanVisible) {
    const TimeAxis axis({10, 0, 1000, 100}, 1h);
    EXPECT_EQ(axis.across({1s, 1001ms}, 0, 5).width, 1);
    EXPECT_EQ(axis.x(1h), 1010);
}

}  // namespace
}  // namespace tripline::picture
