// The envelope against IEC 61672-1:2013 Table 4 (toneburst response of the F detector,
// time constant 125 ms; secondary source, and equal to 10 lg(1 - e^(-Tb/tau))) and its
// decay rate, 31.0 to 38.5 dB/s.
#include "dsp/envelope.h"

#include <gtest/gtest.h>

#include <numbers>

namespace tripline::dsp {
namespace {

using std::chrono_literals::operator""ms;

constexpr double rate = 48000;
constexpr EnvelopeSettings fast{.attack = 125ms, .release = 125ms};

Pair tone(int n) {
    return both(static_cast<float>(0.5 * std::sin(2 * std::numbers::pi * 4000 * n / rate)));
}

double level(Pair power) { return to_dbfs(power[0]).value; }

double greatest_of_burst(double seconds) {
    Envelope envelope(fast, Hertz{rate});
    float greatest = 0;
    for (int n = 0; n < static_cast<int>(rate); ++n)
        greatest = std::max(greatest, envelope(n < seconds * rate ? tone(n) : Pair{})[0]);
    return to_dbfs(greatest).value;
}

TEST(TheEnvelope, AnswersToneburstsAsASoundLevelMeterDoes) {
    const double steady = 20 * std::log10(0.5);
    const std::pair<double, double> table[] = {{0.200, -1.0},  {0.100, -2.6},  {0.050, -4.8},
                                               {0.020, -8.3},  {0.010, -11.1}, {0.005, -14.1},
                                               {0.002, -18.0}, {0.001, -21.0}};
    for (const auto& [seconds, response] : table)
        EXPECT_NEAR(greatest_of_burst(seconds) - steady, response, 0.15) << seconds;
}

TEST(TheEnvelope, DecaysAtTheRateOfASoundLevelMeter) {
    Envelope envelope(fast, Hertz{rate});
    int n = 0;
    while (n < 2 * static_cast<int>(rate)) envelope(tone(n++));
    const double before = level(envelope.peak());
    for (int i = 0; i < static_cast<int>(rate); ++i) envelope(Pair{});
    const double fallen = before - level(envelope.peak());
    EXPECT_GT(fallen, 31.0);
    EXPECT_LT(fallen, 38.5);
}

TEST(TheEnvelope, ReadsASineAsItsLevel) {
    Envelope envelope({}, Hertz{rate});
    for (int n = 0; n < static_cast<int>(rate); ++n) envelope(tone(n));
    EXPECT_NEAR(level(envelope.peak()), -6.02, 0.2);
}

TEST(TheEnvelope, RisesAndFallsToOneEthInItsTimeConstants) {
    Envelope envelope({.attack = 5ms, .release = 50ms}, Hertz{rate});
    const auto in = [](double seconds) { return static_cast<int>(seconds * rate); };
    for (int n = 0; n < in(0.005); ++n) envelope(both(std::numbers::sqrt2_v<float> / 2));
    EXPECT_NEAR(envelope.peak()[0], 1 - std::exp(-1.0), 0.01);
    for (int n = 0; n < in(0.1); ++n) envelope(both(std::numbers::sqrt2_v<float> / 2));
    for (int n = 0; n < in(0.05); ++n) envelope(Pair{});
    EXPECT_NEAR(envelope.peak()[0], std::exp(-1.0), 0.01);
}

TEST(TheEnvelope, KeepsTheInputsApart) {
    Envelope envelope({}, Hertz{rate});
    for (int n = 0; n < 1000; ++n) envelope(Pair{tone(n)[0], 0});
    EXPECT_GT(envelope.peak()[0], 0.1F);
    EXPECT_EQ(envelope.peak()[1], 0.0F);
}

}  // namespace
}  // namespace tripline::dsp
