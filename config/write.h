// Configurations as text, from the table of keys.
#pragma once

#include "config/key.h"
#include "config/load.h"

#include <string>
#include <vector>

namespace tripline::config {

/// The commented file that ships: every key with its default.
std::string shipped_file();

/// The effective settings as a valid file; the comment on each key tells where it comes from.
std::string show(const Loaded& loaded);

struct Change {
    std::string path;
    std::string from;  ///< as TOML
    std::string to;
    Touches touches;  ///< the part of a running station that has to take it up
};

/// Keys whose values differ, in the order of the table.
std::vector<Change> differences(const Settings& from, const Settings& to);

}  // namespace tripline::config
