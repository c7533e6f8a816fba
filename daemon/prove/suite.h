// A folder of recordings with labels and limits, told in its file prove.toml.
#pragma once

#include "config/load.h"
#include "daemon/prove/item.h"

#include <filesystem>
#include <vector>

namespace tripline::prove {

inline constexpr auto suite_file = "prove.toml";

struct Suite {
    std::vector<Item> items;     ///< in the order of the file
    config::Problems problems;   ///< all that is wrong, in the order of the file

    bool good() const { return problems.empty(); }
};

/// Reads `folder`/prove.toml, the labels and the configurations it names. `base` holds for
/// recordings that name no configuration, `overlays` go over those that do. Sound files have
/// to be there; they are not opened.
Suite read_suite(const std::filesystem::path& folder, const config::Settings& base,
                 const config::Overlays& overlays);

}  // namespace tripline::prove
