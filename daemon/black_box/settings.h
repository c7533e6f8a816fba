// What is kept of the last minutes, and how much of it on disk.
#pragma once

#include "dsp/units.h"

#include <cstdint>
#include <filesystem>

namespace tripline::black_box {

struct Settings {
    Duration length{};               ///< of both channels kept in memory; 0: nothing is
    std::filesystem::path folder;    ///< captures are written there
    std::uint64_t budget_bytes = 0;  ///< all captures together; the oldest make room
};

}  // namespace tripline::black_box
