// A GPIO chip of eight lines that exists only for the test.
#pragma once

#include <array>
#include <set>
#include <string>
#include <vector>

namespace tripline::lines {

struct FakeChip {
    int open_error = 0;
    int set_error = 0;
    int get_error = 0;
    std::set<unsigned> taken;               ///< lines another program holds
    std::array<int, 8> value{};
    std::array<bool, 8> requested{};
    int opened = 0;
    int closed = 0;
    std::vector<std::string> calls;         ///< "request 3=0", "set 3=1"
    std::string consumer;
};

FakeChip& chip();

/// As the library fails: sets errno, gives -1.
int fail(int error);
/// "3=1"
std::string text(unsigned line, int value);

}  // namespace tripline::lines
