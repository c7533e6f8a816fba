// Where captures go.
#pragma once

#include <filesystem>
#include <string>

namespace tripline::black_box {

/// Makes the folder when it is not there. Why nothing can be written into it; empty: it can.
std::string unfit(const std::filesystem::path& folder);

}  // namespace tripline::black_box
