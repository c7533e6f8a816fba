#include "daemon/picture/svg.h"

#include "daemon/picture/xml_text.h"

#include <array>
#include <cmath>

namespace tripline::picture {
namespace {

/// To a tenth of a pixel, without a locale's comma.
std::string tenths(double value) {
    const long long all = std::llround(value * 10);
    const std::string sign = all < 0 ? "-" : "";
    const long long size = all < 0 ? -all : all;
    const std::string whole = sign + std::to_string(size / 10);
    return size % 10 == 0 ? whole : whole + '.' + std::to_string(size % 10);
}

}  // namespace

Svg::Svg(double width, double height, std::string_view title, std::string_view style) {
    const std::string size = tenths(width) + "\" height=\"" + tenths(height);
    out_ = "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"" + size + "\" viewBox=\"0 0 " +
           tenths(width) + ' ' + tenths(height) + "\">\n<title>" + xml_text(title) + "</title>\n<style>" +
           std::string(style) + "</style>\n";
}

void Svg::define(std::string_view definitions) { out_ += "<defs>" + std::string(definitions) + "</defs>\n"; }

void Svg::rect(const Box& box, std::string_view style) {
    out_ += "<rect";
    number("x", box.left);
    number("y", box.top);
    number("width", box.width);
    number("height", box.height);
    finish(style);
}

void Svg::line(Point from, Point to, std::string_view style) {
    out_ += "<line";
    number("x1", from.x);
    number("y1", from.y);
    number("x2", to.x);
    number("y2", to.y);
    finish(style);
}

void Svg::polyline(const std::vector<Point>& all, std::string_view style) {
    out_ += "<polyline";
    points(all);
    finish(style);
}

void Svg::polygon(const std::vector<Point>& all, std::string_view style) {
    out_ += "<polygon";
    points(all);
    finish(style);
}

void Svg::text(Point at, std::string_view content, std::string_view style, Anchor anchor) {
    constexpr std::array names{"start", "middle", "end"};
    out_ += "<text";
    number("x", at.x);
    number("y", at.y);
    out_ += std::string(" text-anchor=\"") + names[static_cast<std::size_t>(anchor)] + "\" class=\"" +
            std::string(style) + "\">" + xml_text(content) + "</text>\n";
}

void Svg::points(const std::vector<Point>& all) {
    out_ += " points=\"";
    for (const Point& p : all) out_ += tenths(p.x) + ',' + tenths(p.y) + ' ';
    out_ += '"';
}

void Svg::number(const char* name, double value) {
    out_ += std::string(" ") + name + "=\"" + tenths(value) + '"';
}

void Svg::finish(std::string_view style) { out_ += " class=\"" + std::string(style) + "\"/>\n"; }

}  // namespace tripline::picture
