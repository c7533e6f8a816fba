// Convolution with a long response, in equal partitions.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

namespace tripline::scene {

/// One sample in, one out, `block` samples late. Overlap-save with a delay line of spectra.
class Convolver {
public:
    static constexpr std::size_t block = 128;

    explicit Convolver(const std::vector<float>& response);
    ~Convolver();
    Convolver(Convolver&&) noexcept;

    float operator()(float in);

private:
    static constexpr std::size_t bins = block + 1;
    /// Real and imaginary parts apart, so that four bins are multiplied in one instruction.
    struct Spectrum {
        std::array<float, bins> real{};
        std::array<float, bins> imaginary{};
        void add_product(const Spectrum& a, const Spectrum& b);
    };
    struct Transforms;
    void turn();

    std::unique_ptr<Transforms> transforms_;
    std::vector<Spectrum> response_;
    std::vector<Spectrum> past_;     ///< ring, newest at newest_
    std::size_t newest_ = 0;
    std::vector<float> input_;       ///< two blocks: the last and the one that fills
    std::vector<float> output_;
    std::size_t at_ = 0;
};

}  // namespace tripline::scene
