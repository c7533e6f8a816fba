#include "dsp/in_series.h"

#include <cstddef>

namespace tripline::dsp {

namespace {

template <std::size_t n> using Sections = std::array<Biquad*, n>;
/// What each section has made last.
template <std::size_t n> using Made = std::array<Pair, n>;

/// For blocks shorter than there are sections.
template <std::size_t n>
void one_by_one(const Sections<n>& sections, std::span<const Pair> in, std::span<Pair> out) noexcept {
    for (std::size_t i = 0; i < in.size(); ++i) {
        Pair sample = in[i];
        for (Biquad* section : sections) sample = (*section)(sample);
        out[i] = sample;
    }
}

/// Each section takes as many samples as come after it.
template <std::size_t n> Made<n> begun(const Sections<n>& sections, std::span<const Pair> in) noexcept {
    Made<n> made{};
    for (std::size_t i = 0; i + 1 < n; ++i) {
        for (std::size_t k = i; k > 0; --k) made[k] = (*sections[k])(made[k - 1]);
        made[0] = (*sections[0])(in[i]);
    }
    return made;
}

/// What is still between the sections comes out.
template <std::size_t n> void end(const Sections<n>& sections, Made<n> made, std::span<Pair> out) noexcept {
    for (std::size_t i = 1; i < n; ++i) {
        for (std::size_t k = n - 1; k >= i; --k) made[k] = (*sections[k])(made[k - 1]);
        out[out.size() - n + i] = made[n - 1];
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

/// From where begun() has left the sections to where end() takes over.
void in_step(const Sections<3>& sections, Made<3>& made, std::span<const Pair> in, std::span<Pair> out) noexcept {
    Abreast two(*sections[0], *sections[1]);
    Biquad third = *sections[2];  // in registers
    for (std::size_t i = 2; i < in.size(); ++i) {
        const Quad y = two(quad(in[i], made[0]));
        out[i - 2] = third(made[1]);
        made = {low(y), high(y), out[i - 2]};
    }
    *sections[2] = third;
}

void in_step(const Sections<4>& sections, Made<4>& made, std::span<const Pair> in, std::span<Pair> out) noexcept {
    Abreast two(*sections[0], *sections[1]);
    Abreast more(*sections[2], *sections[3]);
    for (std::size_t i = 3; i < in.size(); ++i) {
        const Quad y = two(quad(in[i], made[0]));
        const Quad z = more(quad(made[1], made[2]));
        out[i - 3] = high(z);
        made = {low(y), high(y), low(z), out[i - 3]};
    }
}

template <std::size_t n>
void put_through(const Sections<n>& sections, std::span<const Pair> in, std::span<Pair> out) noexcept {
    if (in.size() < n) return one_by_one(sections, in, out);
    Made<n> made = begun(sections, in);
    in_step(sections, made, in, out);
    end(sections, made, out);
}

}  // namespace

void in_series(const Sections<3>& sections, std::span<const Pair> in, std::span<Pair> out) noexcept {
    put_through(sections, in, out);
}

void in_series(const Sections<4>& sections, std::span<const Pair> in, std::span<Pair> out) noexcept {
    put_through(sections, in, out);
}

}  // namespace tripline::dsp
