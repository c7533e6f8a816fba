// A safety kernel has to be small enough to be read at one sitting.
#include <gtest/gtest.h>

#include <fstream>
#include <string>

namespace tripline::guard {
namespace {

/// Lines that hold code: neither blank nor only a comment.
int lines_of_code(const std::string& path) {
    std::ifstream in(path);
    EXPECT_TRUE(in) << path;
    int count = 0;
    for (std::string line; std::getline(in, line);) {
        const auto text = line.find_first_not_of(" \t");
        count += text != std::string::npos && line.compare(text, 2, "//") != 0;
    }
    return count;
}

// What the guard alone runs. The protocol, the plan and its reading, which it shares with the
// daemon, and daemon/lines, which it shares with `tripline release`, come on top.
TEST(TheGuard, HasFewerThan500LinesOfCode) {
    int total = 0;
    for (const char* file :
         {"guard/alive.h", "guard/backstop.h", "guard/backstop.cpp", "guard/confine.h",
          "guard/confine.cpp", "guard/guard.h", "guard/guard.cpp", "guard/judge.h", "guard/judge.cpp",
          "guard/stepper.h", "guard/stepper.cpp", "programs/tripline_guard.cpp"})
        total += lines_of_code(std::string("daemon/") + file);
    std::printf("%d lines of code\n", total);
    RecordProperty("lines_of_code", total);
    EXPECT_LT(total, 500);
}

}  // namespace
}  // namespace tripline::guard
