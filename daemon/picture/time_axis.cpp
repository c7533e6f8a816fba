#include "daemon/picture/time_axis.h"

#include <algorithm>
#include <array>
#include <cstdio>

namespace tripline::picture {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;
using std::chrono_literals::operator""min;
using std::chrono_literals::operator""h;

constexpr int most_steps = 14;
constexpr std::array<Duration, 21> steps{1ms,  2ms,   5ms,   10ms,  20ms,   50ms,   100ms,
                                         200ms, 500ms, 1s,    2s,    5s,     10s,    20s,
                                         30s,  1min,  2min,  5min,  10min,  20min,  1h};

}  // namespace

double TimeAxis::x(Duration at) const {
    const double share = replay::to_seconds(at) / replay::to_seconds(length_);
    return box_.left + box_.width * std::clamp(share, 0.0, 1.0);
}

Box TimeAxis::across(const replay::Span& span, double top, double height) const {
    const double left = x(span.begin);
    return {left, top, std::max(1.0, x(span.end) - left), height};
}

Duration TimeAxis::step() const {
    for (const Duration step : steps) {
        if (length_ / most_steps <= step) return step;
    }
    return std::max<Duration>(1h, 1h * ((length_ / most_steps) / Duration(1h) + 1));
}

void TimeAxis::draw(Svg& svg) const {
    const Duration by = step();
    for (Duration at{}; at <= length_; at += by) {
        svg.line({x(at), box_.top}, {x(at), box_.bottom()}, "grid");
        svg.text({x(at), box_.bottom() + 15}, clock_text(at, by), "small", Anchor::middle);
    }
}

std::string clock_text(Duration at, Duration step) {
    std::array<char, 32> text{};
    const auto whole = static_cast<long long>(at / Duration(1s));
    if (step < 1s || at < 1min) {
        const int digits = step < 10ms ? 3 : step < 100ms ? 2 : step < 1s ? 1 : 0;
        std::snprintf(text.data(), text.size(), "%.*f s", digits, replay::to_seconds(at));
    } else if (whole < 3600) {
        std::snprintf(text.data(), text.size(), "%lld:%02lld", whole / 60, whole % 60);
    } else {
        std::snprintf(text.data(), text.size(), "%lld:%02lld:%02lld", whole / 3600, whole / 60 % 60, whole % 60);
    }
    return text.data();
}

}  // namespace tripline::picture
