// One model of the path from loudspeaker to microphone, and how it learns.
#pragma once

#include "dsp/echo/layout.h"
#include "dsp/echo/real_fft.h"
#include "dsp/echo/receiver_spectra.h"

#include <span>
#include <vector>

namespace tripline::dsp::echo {

/// A partitioned-block Kalman filter in the frequency domain, with a diagonal
/// covariance (Enzner and Vary, Signal Processing 86 (2006) 1140; Kuech, Mabande and
/// Enzner, ICASSP 2014). Each bin of each partition carries its own uncertainty; the
/// step is that uncertainty against the noise it is heard in, and the operator's voice
/// counts as noise. That is what keeps it still when both speak.
///
/// The output has no delay: the first partition is applied sample by sample, the rest
/// is ready a block ahead.
class PathFilter {
public:
    /// `forgetting` is the variance the path gains per block, relative to its power.
    /// `turn` offsets which partitions are projected in which block.
    PathFilter(const RealFft& fft, float forgetting, std::size_t turn);

    /// The receiver's sound at the microphone, predicted for the sample whose last
    /// `block` receiver samples are given. `at` is its place in the block.
    float predict(std::span<const float, block> recent, std::size_t at) const noexcept;

    /// Learns from a block of errors (microphone less prediction) once it is complete.
    void learn(const ReceiverSpectra& receiver, std::span<const float, block> errors) noexcept;

    /// Takes over everything another model knows.
    void copy(const PathFilter& other) noexcept;

    /// First half of the taps' impulse response at partition p: `block` taps.
    std::span<const float, block> taps(std::size_t p) const noexcept { return taps_[p]; }

    /// `gain`: how strong the path may be, in power; 1 is 0 dB.
    void reset(float gain = 1) noexcept;

    /// See Detector::memory_of_sounds(). Between blocks.
    template <typename Visit> void memory(Visit& visit) {
        for (Spectrum& part : path_) part.memory(visit);
        for (Bins& part : uncertainty_) visit(part);
        for (Bins& part : taps_) visit(part);
        visit(strength_);
        visit(next_);
        visit(noise_);
        visit(turn_);
    }

private:
    void expect(const ReceiverSpectra& receiver) noexcept;
    void hear(std::span<const float, block> errors) noexcept;
    void correct(const ReceiverSpectra& receiver) noexcept;
    void project() noexcept;
    void project(std::size_t p) noexcept;
    void share_uncertainty() noexcept;
    void prepare(const ReceiverSpectra& receiver) noexcept;

    const RealFft& fft_;
    float forgetting_;
    std::size_t first_turn_;
    std::size_t turn_;

    std::vector<Spectrum> path_;
    std::vector<Bins> uncertainty_;
    std::vector<std::array<float, block>> taps_;  // of each partition when last projected
    std::array<float, partitions> strength_{};    // power of each partition
    std::array<float, block> next_{};             // what later partitions say of the coming block
    Bins noise_{};       // everything at the microphone that the receiver does not explain
    Bins doubt_{};       // error power expected from the uncertainty
    Bins trust_{};       // in an error: one over the two together
    Spectrum error_;
};

}  // namespace tripline::dsp::echo
