// Finds out that the two inputs are sampled by different clocks.
#pragma once

#include <array>
#include <algorithm>
#include <cmath>
#include <cstddef>

namespace tripline::dsp::echo {

/// A delay that moves steadily one way is no loudspeaker being carried about: it is two
/// clocks. Fits a line through the last delays, which have to lie close along it.
class ClockWatch {
public:
    /// Delay found at a time, both in samples. Times rise.
    void operator()(double time, double delay) noexcept {
        times_[next_] = time;
        delays_[next_] = delay;
        next_ = (next_ + 1) % size;
        if (count_ < size) ++count_;
        if (count_ == size) fit();
    }

    /// Rate of the receiver's clock less the microphone's, in parts of a million.
    double drift_ppm() const noexcept { return 1e6 * slope_; }
    bool differ() const noexcept { return differ_; }

    void reset() noexcept { *this = {}; }

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        visit(times_);
        visit(delays_);
        visit(next_, size);
        visit(count_, size + 1);
        visit(slope_);
        visit(differ_);
    }

private:
    static constexpr std::size_t size = 16;
    static constexpr double least_move = 2;      // samples over the window
    static constexpr double largest_stray = 0.1; // rms about the line, as part of the move

    void fit() noexcept {
        double t = 0, d = 0, tt = 0, td = 0, dd = 0;
        for (std::size_t i = 0; i < size; ++i) {
            t += times_[i] / size;
            d += delays_[i] / size;
        }
        for (std::size_t i = 0; i < size; ++i) {
            tt += (times_[i] - t) * (times_[i] - t);
            td += (times_[i] - t) * (delays_[i] - d);
            dd += (delays_[i] - d) * (delays_[i] - d);
        }
        slope_ = td / tt;
        const double oldest = times_[next_];
        const double newest = times_[(next_ + size - 1) % size];
        const double move = std::abs(slope_) * (newest - oldest);
        const double stray = std::sqrt(std::max(0.0, dd - slope_ * td) / size);
        differ_ = move > least_move && stray < largest_stray * move;
    }

    std::array<double, size> times_{};
    std::array<double, size> delays_{};
    std::size_t next_ = 0;
    std::size_t count_ = 0;
    double slope_ = 0;
    bool differ_ = false;
};

}  // namespace tripline::dsp::echo
