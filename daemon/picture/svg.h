// A drawing in SVG 1.1, a shape at a time.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tripline::picture {

/// In user units, which are pixels at first sight; y grows downwards.
struct Point {
    double x = 0;
    double y = 0;
};

struct Box {
    double left = 0;
    double top = 0;
    double width = 0;
    double height = 0;
    double right() const { return left + width; }
    double bottom() const { return top + height; }
};

enum class Anchor : unsigned char { start, middle, end };

/// How shapes look is said in one style sheet, by class.
class Svg {
public:
    /// `title` is what a screen reader says of the whole, `style` CSS.
    Svg(double width, double height, std::string_view title, std::string_view style);

    /// Definitions, such as patterns, as they stand.
    void define(std::string_view definitions);
    void rect(const Box& box, std::string_view style);
    void line(Point from, Point to, std::string_view style);
    void polyline(const std::vector<Point>& points, std::string_view style);
    void polygon(const std::vector<Point>& points, std::string_view style);
    void text(Point at, std::string_view content, std::string_view style, Anchor anchor = Anchor::start);

    /// The whole document.
    std::string str() const { return out_ + "</svg>\n"; }

private:
    void points(const std::vector<Point>& points);
    void number(const char* name, double value);
    void finish(std::string_view style);

    std::string out_;
};

}  // namespace tripline::picture
