// The chain relies on IEEE arithmetic: -ffast-math would make a NaN invisible.
#include "dsp/denormals.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <sstream>

#ifdef __FAST_MATH__
#error "built with -ffast-math: a NaN could key the station"
#endif
#if defined(__FINITE_MATH_ONLY__) && __FINITE_MATH_ONLY__ != 0
#error "built with -ffinite-math-only: a NaN could key the station"
#endif

namespace tripline::dsp {
namespace {

TEST(Arithmetic, KnowsANaN) {
    volatile float zero = 0;
    const float nan = zero / zero;
    EXPECT_TRUE(std::isnan(nan));
    EXPECT_FALSE(nan == nan);
    EXPECT_FALSE(std::isfinite(nan));
}

TEST(Arithmetic, IsBuiltWithoutFastMathAnywhere) {
    const std::filesystem::path commands = std::filesystem::path(TRIPLINE_BINARY_DIR) / "compile_commands.json";
    std::ifstream file(commands);
    ASSERT_TRUE(file) << commands;
    std::ostringstream text;
    text << file.rdbuf();
    for (const char* flag : {"-ffast-math", "-Ofast", "-ffinite-math-only", "-funsafe-math",
                             "-fassociative-math", "-freciprocal-math"})
        EXPECT_EQ(text.str().find(flag), std::string::npos) << flag;
}

TEST(Denormals, AreZeroInsideTheScopeAndBackAfterIt) {
    volatile float smallest = std::numeric_limits<float>::min();
    volatile float half = 0.5F;
    {
        const DenormalsOff off;
        EXPECT_EQ(smallest * half, 0.0F);
    }
    EXPECT_GT(smallest * half, 0.0F);
}

}  // namespace
}  // namespace tripline::dsp
