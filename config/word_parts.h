// A key by the parts of its name, each perhaps cut short: mic_channel for microphone_channel.
#pragma once

#include <string>
#include <string_view>

namespace tripline::config {

/// The key whose name has each part of the path's name, in the same table or else, of two parts or more, in any; of several the one with the fewest
/// other parts, if that is one. Empty: none.
std::string suggest_by_parts(std::string_view path);

}  // namespace tripline::config
