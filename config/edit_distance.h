// How far two words are apart.
#pragma once

#include <cstddef>
#include <string_view>

namespace tripline::config {

/// Least number of bytes inserted, removed, replaced or swapped with their neighbour that
/// makes one word the other (optimal string alignment: Damerau 1964, Levenshtein 1966).
std::size_t edit_distance(std::string_view a, std::string_view b);

}  // namespace tripline::config
