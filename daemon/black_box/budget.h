// Keeps the captures in a folder within their share of the disk.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

namespace tripline::black_box {

/// All files of captures begin with this and their number, and the files of one capture differ in their
/// extension only.
inline constexpr auto name_prefix = "capture-";

/// Of the next capture in the folder, one more than any there has; from 1. The time does not tell which came
/// first: a computer without a clock that runs on begins in the past. Throws std::filesystem::filesystem_error.
std::uint64_t next_number(const std::filesystem::path& folder);

/// "capture-000012-", for the number 12.
std::string numbered_prefix(std::uint64_t number);

/// Deletes the oldest captures, by number, whole, until `needed` more bytes fit into the budget.
/// Other files in the folder are left alone and not counted. False when even an empty folder
/// has no room. Throws std::filesystem::filesystem_error.
bool make_room(const std::filesystem::path& folder, std::uint64_t budget_bytes, std::uint64_t needed);

}  // namespace tripline::black_box
