// The spectra of both channels, window after window.
#pragma once

#include "dsp/units.h"

#include <complex>
#include <memory>
#include <span>
#include <vector>

namespace tripline::inspect {

/// What of one window is of use: bins 0 to half the rate.
struct Window {
    std::vector<std::complex<float>> microphone;
    std::vector<std::complex<float>> receiver;
};

/// Windows of about 0.7 s (Hann), each half over the one before. Memory and time a sample do
/// not depend on the recording's length.
class Spectra {
public:
    explicit Spectra(Hertz rate);
    ~Spectra();

    /// True when it ends a window: window() is then new.
    bool push(float microphone, float receiver);
    const Window& window() const { return window_; }

    std::size_t size() const { return size_; }
    std::size_t bins() const { return size_ / 2 + 1; }
    double bin_hz() const { return rate_.value / static_cast<double>(size_); }
    /// The window's hop in seconds.
    double hop_s() const { return static_cast<double>(size_ / 2) / rate_.value; }
    /// Of a bin, so that a sine's bins add up to its power (see dsp/units.h).
    double power(std::complex<float> bin) const;

private:
    struct Plan;

    void transform();

    Hertz rate_;
    std::size_t size_;
    std::unique_ptr<Plan> plan_;
    std::vector<float> shape_;
    std::vector<std::complex<float>> samples_;   ///< microphone real, receiver imaginary
    std::size_t filled_ = 0;
    Window window_;
};

/// The lags of a cross-spectrum: entry i is i samples later, the upper half is earlier.
std::vector<float> lags_of(const std::vector<std::complex<float>>& cross, std::size_t size);

}  // namespace tripline::inspect
