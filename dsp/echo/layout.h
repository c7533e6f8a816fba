// How the path from loudspeaker to microphone is cut into partitions.
#pragma once

#include <array>
#include <cstddef>

namespace tripline::dsp::echo {

/// Samples in a block and taps in a partition; also bins in a spectrum.
inline constexpr std::size_t block = 128;
/// Partitions of the path: 3584 taps, 448 ms at 8 kHz. Room for 200 ms of buffers and
/// the sound of a room after that.
inline constexpr std::size_t partitions = 28;

/// A spectrum with its halves apart, so that loops over bins run in vector registers.
/// Bin 0 (the constant part and half the rate, both outside the voice band) is kept at 0.
struct Spectrum {
    alignas(32) std::array<float, block> re{};
    alignas(32) std::array<float, block> im{};

    /// See Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit) {
        visit(re);
        visit(im);
    }
};

using Bins = std::array<float, block>;

}  // namespace tripline::dsp::echo
