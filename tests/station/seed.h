// The seed of a property test: drawn anew and printed; TRIPLINE_SEED repeats a run.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <random>

namespace tripline::station::test {

inline std::uint32_t drawn_seed() {
    const char* given = std::getenv("TRIPLINE_SEED");
    const auto seed = given != nullptr
                          ? static_cast<std::uint32_t>(std::strtoul(given, nullptr, 10))
                          : std::uint32_t{std::random_device{}()};
    std::cout << "TRIPLINE_SEED=" << seed << "\n";
    return seed;
}

}  // namespace tripline::station::test
