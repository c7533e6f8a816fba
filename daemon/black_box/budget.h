// Keeps the captures in a folder within their share of the disk.
#pragma once

#include <cstdint>
#include <filesystem>

namespace tripline::black_box {

/// All files of captures begin with this, and the files of one capture differ in their
/// extension only.
inline constexpr auto name_prefix = "capture-";

/// Deletes the oldest captures, by name, whole, until `needed` more bytes fit into the budget.
/// Other files in the folder are left alone and not counted. False when even an empty folder
/// has no room. Throws std::filesystem::filesystem_error.
bool make_room(const std::filesystem::path& folder, std::uint64_t budget_bytes, std::uint64_t needed);

}  // namespace tripline::black_box
