// Blocks through filter sections in series.
#pragma once

#include "dsp/biquad.h"
#include "dsp/pair.h"

#include <array>
#include <cstddef>

namespace tripline::dsp {

namespace series {

template <std::size_t n> using Sections = std::array<Biquad*, n>;
/// What each section has made last.
template <std::size_t n> using Made = std::array<Pair, n>;

/// Each section takes as many samples as come after it.
template <std::size_t n, typename In> Made<n> begin(const Sections<n>& sections, In in) noexcept {
    Made<n> made{};
    for (std::size_t i = 0; i + 1 < n; ++i) {
        for (std::size_t k = i; k > 0; --k) made[k] = (*sections[k])(made[k - 1]);
        made[0] = (*sections[0])(in(i));
    }
    return made;
}

/// What is still between the sections comes out.
template <std::size_t n, typename Out> void end(const Sections<n>& sections, Made<n> made, std::size_t count, Out out) noexcept {
    for (std::size_t i = 1; i < n; ++i) {
        for (std::size_t k = n - 1; k >= i; --k) made[k] = (*sections[k])(made[k - 1]);
        out(count - n + i, made[n - 1]);
    }
}

/// Two sections side by side for as long as this lives: the low half of a Quad goes through the
/// first, the high half through the second.
class Abreast {
public:
    Abreast(Biquad& first, Biquad& second) noexcept
        : first_(first.state()),
          second_(second.state()),
          taps_{halves(first.taps().b0, second.taps().b0), halves(first.taps().b1, second.taps().b1),
                halves(first.taps().b2, second.taps().b2), halves(first.taps().a1, second.taps().a1),
                halves(first.taps().a2, second.taps().a2)},
          s1_(quad(first_.s1, second_.s1)),
          s2_(quad(first_.s2, second_.s2)) {}
    ~Abreast() {
        first_ = {low(s1_), low(s2_)};
        second_ = {high(s1_), high(s2_)};
    }
    Abreast(const Abreast&) = delete;
    Abreast& operator=(const Abreast&) = delete;

    Quad operator()(Quad x) noexcept {
        const Quad y = taps_.b0 * x + s1_;
        s1_ = taps_.b1 * x - taps_.a1 * y + s2_;
        s2_ = taps_.b2 * x - taps_.a2 * y;
        return y;
    }

private:
    static Quad halves(Quad first, Quad second) noexcept { return quad(low(first), high(second)); }

    Biquad::State& first_;
    Biquad::State& second_;
    Biquad::Taps taps_;
    Quad s1_, s2_;
};

/// From where begin() has left the sections to where end() takes over.
template <typename In, typename Out>
void go_on(const Sections<3>& sections, Made<3>& made, std::size_t count, In in, Out out) noexcept {
    Abreast two(*sections[0], *sections[1]);
    Biquad third = *sections[2];  // in registers
    for (std::size_t i = 2; i < count; ++i) {
        const Quad y = two(quad(in(i), made[0]));
        made[2] = third(made[1]);
        out(i - 2, made[2]);
        made[0] = low(y);
        made[1] = high(y);
    }
    *sections[2] = third;
}

template <typename In, typename Out>
void go_on(const Sections<4>& sections, Made<4>& made, std::size_t count, In in, Out out) noexcept {
    Abreast two(*sections[0], *sections[1]);
    Abreast more(*sections[2], *sections[3]);
    for (std::size_t i = 3; i < count; ++i) {
        const Quad y = two(quad(in(i), made[0]));
        const Quad z = more(quad(made[1], made[2]));
        made = {low(y), high(y), low(z), high(z)};
        out(i - 3, made[3]);
    }
}

}  // namespace series

/// Puts `count` samples through three or four sections, one after the other. `in(i)` gives the samples and `out(i, sample)`
/// takes what comes out of the last section, each in their order. What comes out, and what the sections
/// remember, is to the bit what they make of it sample after sample; but while one takes a sample,
/// the next takes what that one made of the sample before, in the same instructions.
template <std::size_t n, typename In, typename Out>
void in_series(const std::array<Biquad*, n>& sections, std::size_t count, In in, Out out) noexcept {
    if (count < n) {
        for (std::size_t i = 0; i < count; ++i) {
            Pair sample = in(i);
            for (Biquad* section : sections) sample = (*section)(sample);
            out(i, sample);
        }
        return;
    }
    series::Made<n> made = series::begin(sections, in);
    series::go_on(sections, made, count, in, out);
    series::end(sections, made, count, out);
}

}  // namespace tripline::dsp
