// How the code is compiled: a NaN has to stay a NaN, since a rule of safety is to catch it.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <regex>
#include <string>

namespace tripline::structure {
namespace {

TEST(TheCompiler, IsNotAllowedToBendArithmetic) {
    std::ifstream in(BUILD_FOLDER "/compile_commands.json");
    ASSERT_TRUE(in) << "no compile_commands.json in " BUILD_FOLDER;
    const std::regex bending(
        R"(-f(fast-math|unsafe-math-optimizations|finite-math-only|associative-math|reciprocal-math)|-Ofast)");
    for (std::string line; std::getline(in, line);) {
        EXPECT_FALSE(std::regex_search(line, bending)) << line;
    }
}

TEST(TheCompiler, DidNotSetFastMath) {
#ifdef __FAST_MATH__
    FAIL() << "__FAST_MATH__ is set";
#endif
#if defined(__FINITE_MATH_ONLY__) && __FINITE_MATH_ONLY__
    FAIL() << "__FINITE_MATH_ONLY__ is set";
#endif
}

TEST(TheCompiler, KeepsNotANumberUnequalToItself) {
    const volatile float not_a_number = std::numeric_limits<float>::quiet_NaN();
    const float value = not_a_number;
    EXPECT_TRUE(std::isnan(value));
    EXPECT_FALSE(value == value);
}

}  // namespace
}  // namespace tripline::structure
