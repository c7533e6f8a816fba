// Denormal numbers off for a scope: a decaying filter must not get slower as it falls silent.
#pragma once

#include <cstdint>

#if defined(__SSE__) || defined(_M_X64)
#include <xmmintrin.h>
#endif

namespace tripline::dsp {

/// Held by whoever runs the chain, on the thread that runs it; puts the thread's
/// floating-point mode back at the end. Does nothing on other processors.
class DenormalsOff {
public:
    DenormalsOff() noexcept : saved_(read()) { write(saved_ | mask); }
    ~DenormalsOff() { write(saved_); }
    DenormalsOff(const DenormalsOff&) = delete;
    DenormalsOff& operator=(const DenormalsOff&) = delete;

private:
#if defined(__SSE__) || defined(_M_X64)
    static constexpr std::uint64_t mask = 0x8040;  // flush to zero, denormals are zero
    static std::uint64_t read() noexcept { return _mm_getcsr(); }
    static void write(std::uint64_t mode) noexcept { _mm_setcsr(static_cast<unsigned>(mode)); }
#elif defined(__aarch64__)
    static constexpr std::uint64_t mask = std::uint64_t{1} << 24;  // FPCR.FZ
    static std::uint64_t read() noexcept {
        std::uint64_t mode;
        asm volatile("mrs %0, fpcr" : "=r"(mode));
        return mode;
    }
    static void write(std::uint64_t mode) noexcept { asm volatile("msr fpcr, %0" : : "r"(mode)); }
#elif defined(__arm__) && defined(__VFP_FP__) && !defined(__SOFTFP__)
    static constexpr std::uint64_t mask = std::uint64_t{1} << 24;  // FPSCR.FZ
    static std::uint64_t read() noexcept {
        std::uint32_t mode;
        asm volatile("vmrs %0, fpscr" : "=r"(mode));
        return mode;
    }
    static void write(std::uint64_t mode) noexcept {
        asm volatile("vmsr fpscr, %0" : : "r"(static_cast<std::uint32_t>(mode)));
    }
#else
    static constexpr std::uint64_t mask = 0;
    static std::uint64_t read() noexcept { return 0; }
    static void write(std::uint64_t) noexcept {}
#endif

    std::uint64_t saved_;
};

}  // namespace tripline::dsp
